//! Facing an end and drilling its centre hole, before anything runs on that centre.

use super::draft::Builder;
use super::rests::{self, Ground};
use super::{STANDS_ALONE_RATIO, What, Why, cuts, room};
use crate::job::{CentreHole, Cut, Force, Pass, PassId, PassKind, Rest, RestId, SetTo, Setup, SetupId};
use crate::study::machine::real_feed_mm_per_rev;
use crate::study::reach::approach_mm;

/// More stock than this beyond the finished part is a stub, not an allowance for facing. Common practice, no source.
const FACING_MM: f64 = 5.0;
/// Depth of a centre hole against its pilot. Common practice, no source.
const DEEP_RATIO: f64 = 2.5;
const FEED_MM_PER_REV: f64 = 0.08;
/// Stands out of the chuck where the rest of the work goes into the spindle, in diameters.
const SHORT_RATIO: f64 = 0.75;

/// Sees to it that an end has a centre; `None` where it cannot be given one.
pub fn centre(builder: &mut Builder, end_b: bool) -> Option<()> {
    let shaft = &builder.job.shaft;
    let length_mm = shaft.length_mm();
    let end_s_mm = if end_b { length_mm } else { 0.0 };
    let hole = if end_b { shaft.centre_hole_b } else { shaft.centre_hole_a };
    if hole.is_some() || shaft.bore_diameter_mm(end_s_mm) > 0.0 {
        return Some(());
    }
    let diameter_mm = builder.now_mm((end_s_mm - 0.01).abs())?;
    let pilot_mm = CentreHole::usual_pilot_mm(diameter_mm);
    let (mut setup, why) = held(builder, end_b, diameter_mm)?;
    let end_z_mm = setup.work_end_z_mm(&builder.job.shaft);
    let finished_mm =
        if end_b { length_mm - shaft.wanted_start_s_mm - shaft.wanted_length_mm() } else { shaft.wanted_start_s_mm };
    let facing_mm = if (0.05..=FACING_MM).contains(&finished_mm) { finished_mm } else { 0.0 };
    let feed_mm_per_rev = real_feed_mm_per_rev(&builder.job.lathe, FEED_MM_PER_REV);
    let pass = |kind, to_z_mm, cut, size_mm: f64| Pass {
        id: PassId(0),
        kind,
        from_z_mm: end_z_mm,
        to_z_mm,
        cut,
        feed_mm_per_rev,
        speed_rpm: cuts::speed_rpm(builder, &setup, size_mm, 1.0),
        force: Force::FromCut,
    };
    let mut passes = Vec::new();
    if facing_mm > 0.0 {
        passes.push(pass(PassKind::Face, end_z_mm, Cut::Depth { on_diameter_mm: facing_mm }, diameter_mm));
    }
    let deep_mm = DEEP_RATIO * pilot_mm;
    // A drill is never run faster than the work's own outside could be turned.
    passes.push(pass(PassKind::Drill, end_z_mm - deep_mm, Cut::ToDiameter { diameter_mm: pilot_mm }, diameter_mm));
    setup.passes = passes;
    setup.name = "Face and centre".to_owned();
    if let Some(rest) = setup.rests.first() {
        let s_mm = setup.s_of_z_mm(&builder.job.shaft, rest.z_mm);
        builder.step(What::SetRest { s_mm }, why);
    }
    let through_spindle = setup.work_start_z_mm < -setup.drive.grip_mm - 1e-6;
    builder.step(What::FaceAndCentre { end_b, facing_mm, through_spindle }, vec![Why::CentreWanted]);
    builder.add(setup);
    let hole = Some(CentreHole::in_the_middle(pilot_mm));
    if end_b {
        builder.job.shaft.centre_hole_b = hole;
    } else {
        builder.job.shaft.centre_hole_a = hole;
    }
    Some(())
}

/// A holding with the end free: mostly in the spindle, or short of itself, or with a steady at the end.
fn held(builder: &Builder, end_b: bool, diameter_mm: f64) -> Option<(Setup, Vec<Why>)> {
    let (shaft, lathe) = (&builder.job.shaft, &builder.job.lathe);
    let (length_mm, grip_mm) = (shaft.length_mm(), room::grip_mm(shaft, lathe));
    let mut setup = Setup::in_chuck(SetupId(0), grip_mm);
    setup.end_for_end = !end_b;
    let out_mm = (SHORT_RATIO * diameter_mm).max(10.0);
    let goes_in = shaft.max_diameter_mm() <= lathe.spindle_bore_mm.value
        && length_mm - out_mm <= lathe.headstock_length_mm.value
        && length_mm - out_mm >= grip_mm;
    if goes_in {
        setup.work_start_z_mm = out_mm - length_mm;
        return Some((setup, Vec::new()));
    }
    if length_mm - grip_mm <= STANDS_ALONE_RATIO * diameter_mm {
        return Some((setup, Vec::new()));
    }
    let [_, behind_mm] = approach_mm(lathe);
    let end_z_mm = setup.work_end_z_mm(shaft);
    // From the nearest place the tool lets it stand, towards the chuck, as far as the stock is straight under it.
    let mut z_mm = (end_z_mm - behind_mm).floor();
    let least_mm = lathe.rest_base_mm.value / 2.0 + room::CLEARANCE_MM;
    while z_mm > least_mm {
        let rest = Rest { set_to: SetTo::Axis, ..Rest::three_jaw(RestId(0), z_mm) };
        let rest = match rests::ground(builder, &setup, z_mm) {
            None => None,
            Some(Ground::AsItIs) if rests::is_bright(builder, &setup, z_mm) => Some((rest, Why::AsItIs)),
            Some(Ground::True) => Some((rest, Why::OnCutWork)),
            Some(Ground::AsItIs | Ground::ToSpot) => {
                rests::on_cat_head(builder, &setup, rest).map(|rest| (rest, Why::CatHead))
            }
        };
        if let Some((rest, why)) = rest {
            setup.rests.push(rest);
            return Some((setup, vec![Why::SteadyAtTheEnd, why]));
        }
        z_mm -= 1.0;
    }
    None
}
