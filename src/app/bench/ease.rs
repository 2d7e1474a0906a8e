//! The bent line eases to its new shape in a blink where something was switched, so that the eye can follow what it does.
//! Never under the hand: what is dragged, zoomed, played or stepped is drawn as it is, and so is all where less movement
//! is wanted.

use std::sync::Arc;

use egui::{Id, Ui};

use crate::app::View;
use crate::job::{PassId, SetupId};
use crate::study::Shape;

/// A bent line at the height it is drawn.
#[derive(Clone, Debug, PartialEq)]
struct Bent {
    z_mm: Vec<f64>,
    /// Away, and up.
    spring_mm: [Vec<f64>; 2],
    times: f64,
}

#[derive(Clone, Debug)]
struct Eased {
    setup: SetupId,
    tool: (Option<PassId>, f64),
    to: Arc<Bent>,
    /// What was shown when it began to change, and when that was.
    from: Option<(Arc<Bent>, f64)>,
}

impl Bent {
    fn of(shape: &Shape, times: f64) -> Self {
        Self { z_mm: shape.z_mm.clone(), spring_mm: [shape.x_mm.clone(), shape.y_mm.clone()], times }
    }

    fn ends_mm(&self) -> Option<(f64, f64)> {
        Some((*self.z_mm.first()?, *self.z_mm.last()?))
    }

    /// Spring at a place, straight between the two next to it.
    fn at(&self, plane: usize, z_mm: f64) -> f64 {
        let springs_mm = &self.spring_mm[plane];
        let after = self.z_mm.partition_point(|place_mm| *place_mm < z_mm).min(self.z_mm.len() - 1);
        let before = after.saturating_sub(1);
        let run_mm = self.z_mm[after] - self.z_mm[before];
        let share = if run_mm > 0.0 { ((z_mm - self.z_mm[before]) / run_mm).clamp(0.0, 1.0) } else { 1.0 };
        springs_mm[before] + share * (springs_mm[after] - springs_mm[before])
    }

    /// A share of the way from another line to this, both as they are drawn.
    fn on_the_way(&self, from: &Self, share: f64) -> Self {
        let scale = from.times / self.times;
        let plane = |plane: usize| {
            let both = self.z_mm.iter().zip(&self.spring_mm[plane]);
            both.map(|(z_mm, to_mm)| {
                let from_mm = scale * from.at(plane, *z_mm);
                from_mm + share * (to_mm - from_mm)
            })
            .collect()
        };
        Self { z_mm: self.z_mm.clone(), spring_mm: [plane(0), plane(1)], times: self.times }
    }
}

impl Eased {
    /// What is shown now, where that is not the shape itself.
    fn shown(&self, now_s: f64, whole_s: f64) -> Option<Bent> {
        let (from, since_s) = self.from.as_ref()?;
        let share = (now_s - since_s) / whole_s;
        let left = 1.0 - share;
        (share < 1.0).then(|| self.to.on_the_way(from, 1.0 - left * left * left))
    }
}

/// The shape as it is to be drawn `times` larger where it is still on its way; `None` where it has arrived.
#[must_use]
pub fn on_its_way(ui: &Ui, view: &View, shape: &Shape, times: f64, in_gesture: bool) -> Option<Shape> {
    let key = Id::unique("bench shape on its way");
    let now_s = ui.input(|input| input.time);
    let whole_s = f64::from(ui.style().animation_time);
    let to = Bent::of(shape, times);
    let tool = (view.pass, view.tool_z_mm);
    let last: Option<Eased> = ui.data(|data| data.get_temp(key));
    let last = last.filter(|last| last.setup == view.setup && last.to.ends_mm() == to.ends_mm() && !to.z_mm.is_empty());
    let from = last.and_then(|last| {
        let is_same = last.to.spring_mm == to.spring_mm && last.to.z_mm == to.z_mm;
        let tool_moved = last.tool.0 == tool.0 && last.tool.1 != tool.1;
        let by_hand = in_gesture || tool_moved || view.play.is_playing() || ui.input(|input| input.pointer.any_down());
        match is_same {
            _ if by_hand || whole_s <= 0.0 => None,
            true => last.from,
            false => Some((last.shown(now_s, whole_s).map_or(last.to, Arc::new), now_s)),
        }
    });
    let eased = Eased { setup: view.setup, tool, to: Arc::new(to), from };
    let shown = eased.shown(now_s, whole_s);
    ui.data_mut(|data| data.insert_temp(key, eased));
    let [x_mm, y_mm] = shown?.spring_mm;
    ui.ctx().request_repaint();
    Some(Shape { x_mm, y_mm, ..shape.clone() })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bent(z_mm: &[f64], x_mm: &[f64], times: f64) -> Bent {
        Bent { z_mm: z_mm.to_vec(), spring_mm: [x_mm.to_vec(), vec![0.0; z_mm.len()]], times }
    }

    #[test]
    fn it_begins_as_it_was_drawn_and_ends_as_it_is() {
        let from = bent(&[0.0, 100.0], &[0.0, 0.2], 1000.0);
        let to = bent(&[0.0, 50.0, 100.0], &[0.0, 1.0, 4.0], 50.0);
        // Drawn 200 mm high before: 4 mm at 50 times.
        let first = to.on_the_way(&from, 0.0);
        assert_eq!(first.spring_mm[0], [0.0, 2.0, 4.0]);
        assert_eq!(to.on_the_way(&from, 1.0), to);
        assert_eq!(to.on_the_way(&from, 0.5).spring_mm[0], [0.0, 1.5, 4.0]);
    }
}
