//! Followers at the edges: brought on part of the way along, and nearer to the tool than any jaw is narrow.

use midspan::job::{Follower, Job};
use midspan::study::{Status, compute};

use crate::close::close;
use crate::random_job::{jaw, plain_job};

fn with_follower(follower: Follower) -> Job {
    let mut job = plain_job(500.0, 16.0);
    let jaws = [jaw(0.0, -0.02, 3e4), jaw(90.0, -0.02, 3e4)];
    job.setups[0].follower = Some(Follower { jaws, ..follower });
    job
}

/// Where it is brought on the size jumps: one station before, one after, both at the same place, as at a shoulder.
#[test]
fn a_follower_brought_on_is_a_step_and_no_slope() {
    // Anywhere, on a station of the usual spacing, and a hair beside one.
    for start_mm in [37.3, 44.0, 44.0 + 3e-8] {
        let job = with_follower(Follower { start_mm, ..Follower::usual() });
        let pass = compute(&job).setups.remove(0).passes.remove(0);
        assert_eq!(pass.status, Status::Solved);
        let z_mm = job.setups[0].passes[0].from_z_mm - start_mm;
        let there: Vec<usize> =
            (0..pass.stations.len()).filter(|&index| (pass.stations[index].z_mm - z_mm).abs() < 1e-5).collect();
        // Rising in z, fed to the headstock: what lies ahead comes first.
        let [on, off] = there[..] else { panic!("{} stations at {z_mm}", there.len()) };
        let jaws_n = |index: usize| &pass.forces_at(index)[pass.supports.len() - 2..];
        assert_eq!(jaws_n(off), [0.0, 0.0]);
        assert!(jaws_n(on).iter().any(|force_n| *force_n > 1.0), "{:?}", jaws_n(on));
        let step_mm = pass.stations[on].error_mm - pass.stations[off].error_mm;
        let beside_mm = pass.stations[off + 1].error_mm - pass.stations[off].error_mm;
        assert!(step_mm.abs() > 20.0 * beside_mm.abs(), "a step of {step_mm} mm, {beside_mm} mm beside it");
    }
}

/// A follower a few micrometres from the tool is not given stations as close as that, and does what one a little further
/// off does.
#[test]
fn a_follower_all_but_at_the_tool_has_stations_as_usual() {
    let at = |distance_mm: f64| {
        let pass =
            compute(&with_follower(Follower { distance_mm, ..Follower::usual() })).setups.remove(0).passes.remove(0);
        assert_eq!(pass.status, Status::Solved);
        pass
    };
    let (near, further) = (at(0.005), at(0.3));
    assert!(near.stations.len() < 400, "{}", near.stations.len());
    let middle_mm = |pass: &midspan::study::PassResult| pass.stations[pass.stations.len() / 2].error_mm;
    close(middle_mm(&near), middle_mm(&further), 0.1, 1e-3);
}
