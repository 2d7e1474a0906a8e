//! Filling an outline with triangles: a fan where it is convex, ear clipping where it is not.
//!
//! Ear clipping takes, again and again, a corner whose triangle holds no other corner; O(n²) for n corners, which is
//! enough for outlines of some tens of points. An outline that crosses itself is filled as far as ears are found.

use egui::{Color32, Mesh, Pos2};

fn cross(o: Pos2, a: Pos2, b: Pos2) -> f32 {
    (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x)
}

/// The outline filled with one colour.
#[must_use]
pub fn filled(outline: &[Pos2], colour: Color32) -> Mesh {
    let mut mesh = Mesh::default();
    for point in outline {
        mesh.colored_vertex(*point, colour);
    }
    for [a, b, c] in triangles(outline) {
        mesh.add_triangle(a, b, c);
    }
    mesh
}

/// Corners of the triangles, as places in `outline`.
#[must_use]
pub fn triangles(outline: &[Pos2]) -> Vec<[u32; 3]> {
    let n = outline.len();
    if n < 3 {
        return Vec::new();
    }
    let turn = |i: usize| cross(outline[i], outline[(i + 1) % n], outline[(i + 2) % n]);
    let (left, right) =
        (0..n).fold((false, false), |(left, right), i| (left || turn(i) > 1e-6, right || turn(i) < -1e-6));
    if !(left && right) {
        return (1..n as u32 - 1).map(|i| [0, i, i + 1]).collect();
    }
    let area: f32 = (0..n).map(|i| outline[i].x * outline[(i + 1) % n].y - outline[(i + 1) % n].x * outline[i].y).sum();
    let sign = area.signum();
    let mut rest: Vec<usize> = (0..n).collect();
    let mut found = Vec::with_capacity(n - 2);
    while rest.len() > 3 {
        let m = rest.len();
        let ear = (0..m).find(|&i| {
            let (a, b, c) = (rest[(i + m - 1) % m], rest[i], rest[(i + 1) % m]);
            let (pa, pb, pc) = (outline[a], outline[b], outline[c]);
            sign * cross(pa, pb, pc) >= 0.0
                && rest.iter().all(|&j| {
                    let p = outline[j];
                    j == a
                        || j == b
                        || j == c
                        || !(sign * cross(pa, pb, p) > 0.0
                            && sign * cross(pb, pc, p) > 0.0
                            && sign * cross(pc, pa, p) > 0.0)
                })
        });
        let Some(i) = ear else { break };
        found.push([rest[(i + m - 1) % m] as u32, rest[i] as u32, rest[(i + 1) % m] as u32]);
        rest.remove(i);
    }
    if let [a, b, c] = rest[..] {
        found.push([a as u32, b as u32, c as u32]);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::pos2;

    fn area_of(outline: &[Pos2]) -> f32 {
        triangles(outline)
            .iter()
            .map(|[a, b, c]| 0.5 * cross(outline[*a as usize], outline[*b as usize], outline[*c as usize]).abs())
            .sum()
    }

    #[test]
    fn a_step_is_filled_to_its_own_area_either_way_round() {
        let mut step =
            vec![pos2(0.0, 0.0), pos2(4.0, 0.0), pos2(4.0, 1.0), pos2(1.0, 1.0), pos2(1.0, 3.0), pos2(0.0, 3.0)];
        assert!((area_of(&step) - 6.0).abs() < 1e-5);
        step.reverse();
        assert!((area_of(&step) - 6.0).abs() < 1e-5);
    }

    #[test]
    fn a_square_is_filled_to_its_own_area() {
        let square = [pos2(0.0, 0.0), pos2(2.0, 0.0), pos2(2.0, 2.0), pos2(0.0, 2.0)];
        assert!((area_of(&square) - 4.0).abs() < 1e-5);
    }
}
