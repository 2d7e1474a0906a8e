//! Bands of the shape of the work, of run-out and of the depth before chatter: each against what it must come to.

use midspan::job::{Force, Job, Spread, Stiffness, TailKind, examples};
use midspan::study::band::{Curve, Lattice, PassBand, Sample, bands_of, depth_band, shape_band, turning_bands};
use midspan::study::lively::depth_limits;
use midspan::study::{self, JobResult, PassResult};

use crate::close::close;
use crate::quiet;

const ALWAYS: fn() -> bool = || true;

/// The shape's band at the tool is that of the spring there: the same members solved the same way.
#[test]
fn the_band_of_the_shape_at_the_tool_is_the_band_of_the_spring_there() {
    for key in ["pump-shaft", "boring-bar", "guide-rod"] {
        let job = examples::load(key).expect("an example");
        let result = study::compute_with_bands(&job);
        let bands = result.bands.as_ref().expect("bands");
        let setup = &job.setups[0];
        let mut n_checked = 0;
        for pass in setup.passes.iter().map(|pass| pass.id) {
            let (Some(band), Some(computed)) = (result.band(pass), result.pass(pass)) else { continue };
            let (away, up) = (band.edges_mm(Curve::SpringX, computed), band.edges_mm(Curve::SpringY, computed));
            // Beside a coarse station half-way along the cut.
            let Some(middle_mm) = band.z_mm.get(band.z_mm.len() / 2) else { continue };
            let off_mm = |index: &usize| (computed.stations[*index].z_mm - middle_mm).abs();
            let nearest = (0..computed.stations.len()).min_by(|a, b| off_mm(a).total_cmp(&off_mm(b)));
            let index = nearest.expect("a banded pass has stations");
            let station = &computed.stations[index];
            let tool = Some(station.z_mm);
            let shape = study::shape_at(&job, &result, setup.id, Some(pass), tool).expect("a shape");
            let of_shape = shape_band(&job, bands, setup.id, Some(pass), tool).expect("its band").edges_mm(&shape);
            let node = shape.z_mm.iter().position(|z_mm| (z_mm - station.z_mm).abs() < 1e-6).expect("a node there");
            for (edges, along) in of_shape.iter().zip([&away, &up]) {
                let width_mm = along[index][1] - along[index][0];
                for edge in [0, 1] {
                    close(edges[node][edge], along[index][edge], 0.0, 0.02 * width_mm + 1e-7);
                }
            }
            n_checked += 1;
        }
        assert!(n_checked > 0, "{key}: no pass has a band");
    }
}

/// With nothing uncertain the line is its own band.
#[test]
fn a_shape_of_which_all_is_known_has_no_band() {
    let mut job = examples::opening();
    job.spread = Spread { main_ratio: 0.0, radial_ratio: 0.0, stiffness_factor: 1.0, ..Spread::usual() };
    let result = study::compute_with_bands(&job);
    let (setup, pass) = (job.setups[0].id, job.setups[0].passes[0].id);
    let shape = study::shape_at(&job, &result, setup, Some(pass), Some(300.0)).expect("a shape");
    let band = shape_band(&job, result.bands.as_ref().expect("bands"), setup, Some(pass), Some(300.0)).expect("a band");
    let [away, up] = band.edges_mm(&shape);
    assert!(away.iter().zip(&shape.x_mm).all(|(edges, line)| *edges == [*line; 2]));
    assert!(up.iter().zip(&shape.y_mm).all(|(edges, line)| *edges == [*line; 2]));
}

fn pass_with(result: &JobResult, turns: bool) -> Option<&PassResult> {
    result.setups.iter().flat_map(|setup| &setup.passes).find(|pass| pass.turns == turns && !pass.stations.is_empty())
}

/// Largest difference of the edges of two bands in shares of the largest width.
fn apart_ratio(one: &PassBand, other: &PassBand, curve: Curve, pass: &PassResult) -> f64 {
    let (one, other) = (one.edges_mm(curve, pass), other.edges_mm(curve, pass));
    let width = one.iter().map(|[low, high]| high - low).fold(0.0, f64::max);
    let apart =
        one.iter().zip(&other).flat_map(|(a, b)| [(a[0] - b[0]).abs(), (a[1] - b[1]).abs()]).fold(0.0, f64::max);
    assert!(width > 0.0, "{curve:?} has a width");
    apart / width
}

/// A bent bar with a follower: run-out as held hangs on force and stiffness. Thirty-one members say what 997 say.
#[test]
fn the_band_of_run_out_is_that_of_a_thousand_members() {
    let job = examples::load("guide-rod").expect("an example");
    let result = study::compute(&job);
    let small = turning_bands(&job, &ALWAYS).expect("bands");
    let many = Sample { lattice: Lattice { n_members: 997, generator: 7 }, ..Sample::TURNING };
    let many = bands_of(&job, &result, &many, &ALWAYS).expect("bands");
    let pass = pass_with(&result, true).expect("a pass that turns");
    let (small, many) = (small.pass(pass.pass).expect("a band"), many.pass(pass.pass).expect("a band"));
    for curve in [Curve::RunOut, Curve::LetGo] {
        let ratio = apart_ratio(small, many, curve, pass);
        assert!(ratio < 0.1, "{curve:?}: {ratio:.3} of the width apart");
        assert!(small.edges_mm(curve, pass).iter().all(|[low, high]| *low >= 0.0 && high >= low));
    }
}

/// Eccentric in a rigid chuck and cut without any rest, the fresh surface runs true as held whatever the force is:
/// run-out as held has no band, and let go it is the eccentricity of the grip, known as well.
#[test]
fn what_the_chuck_takes_off_the_axis_is_known_and_has_no_band() {
    let mut job = quiet::job();
    job.setups[0].tail.kind = TailKind::Free;
    job.setups[0].drive.runout_tir_mm = 0.2;
    (job.setups[0].passes[0].from_z_mm, job.setups[0].passes[0].to_z_mm) = (80.0, 40.0);
    let result = study::compute(&job);
    let bands = turning_bands(&job, &ALWAYS).expect("bands");
    let pass = pass_with(&result, true).expect("a pass that turns");
    let band = bands.pass(pass.pass).expect("a band");
    for curve in [Curve::RunOut, Curve::LetGo] {
        for [low_mm, high_mm] in band.edges_mm(curve, pass) {
            assert!(high_mm - low_mm < 1e-3, "{curve:?}: {low_mm} to {high_mm}");
        }
    }
}

/// A stout stub in a soft grip that swings as one mass on its spring: the least real part of its receptance is
/// -1/(4 ζ (1 + ζ) k), so the limit of depth goes with the stiffness of the grip. That lies evenly on the scale of its
/// logarithm from 1/1.5 to 1.5, a twentieth left off at either end: from 1.5^-0.9 to 1.5^0.9 times.
///
/// Source: Y. Altintas, Manufacturing Automation (2012), 4.2 and 4.4, for the receptance and the limit (from memory).
#[test]
fn the_depth_before_chatter_of_a_stub_in_a_soft_grip_goes_with_the_grip() {
    let mut job = stub_in_a_soft_grip();
    job.spread = Spread { main_ratio: 0.0, radial_ratio: 0.0, stiffness_factor: 1.5, ..Spread::usual() };
    let result = study::compute(&job);
    let damping_ratio = job.spread.damping_ratio.value;
    let limits = depth_limits(&job, &result, quiet::SETUP, quiet::PASS, damping_ratio, &ALWAYS);
    let band = depth_band(&job, quiet::SETUP, quiet::PASS, &ALWAYS).expect("a band");
    assert!(limits.len() > 20, "{} limits", limits.len());
    for (limit, [low_mm, high_mm]) in limits.iter().zip(band.edges_mm(&limits)) {
        close(low_mm / limit.limit_on_diameter_mm, 1.5f64.powf(-0.9), 0.03, 0.0);
        close(high_mm / limit.limit_on_diameter_mm, 1.5f64.powf(0.9), 0.03, 0.0);
    }
}

fn stub_in_a_soft_grip() -> Job {
    let mut job = quiet::job();
    let setup = &mut job.setups[0];
    setup.tail.kind = TailKind::Free;
    setup.drive.radial_k_n_per_mm = Stiffness::assumed(3000.0);
    let pass = &mut setup.passes[0];
    (pass.from_z_mm, pass.to_z_mm) = (60.0, 20.0);
    pass.force = Force::Typed { radial_n: 60.0, main_n: 120.0, feed_n: 40.0, follows_depth: true };
    job.shaft.stock = vec![quiet::land(90.0, 40.0)];
    job.shaft.wanted[0].land = quiet::land(90.0, 38.0);
    job
}

#[test]
fn the_band_of_the_depths_is_given_up_when_told_so_and_there_is_none_where_nothing_is_cut() {
    let mut job = stub_in_a_soft_grip();
    assert!(depth_band(&job, quiet::SETUP, quiet::PASS, &|| false).is_none());
    assert!(turning_bands(&job, &|| false).is_none());
    job.setups[0].passes[0].from_z_mm = 900.0;
    job.setups[0].passes[0].to_z_mm = 800.0;
    assert!(depth_band(&job, quiet::SETUP, quiet::PASS, &ALWAYS).is_none());
}
