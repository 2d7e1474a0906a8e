//! Jobs at the limits of what may be typed: from rigid ends to ends of 100 N/mm, bores of 99 %, length over diameter from 1
//! to 200, three rests of four jaws, gaps of a metre, a tailstock far off, forty lands, passes of a millimetre.
//!
//! Whatever comes out is a number, a solved pass keeps its equations and its balance of forces, and what is not solved
//! says so. NaN is looked for in every field by itself, since `f64::max` and `min` drop it.

use std::f64::consts::{FRAC_PI_4, PI};

use midspan::job::material::OwnMaterial;
use midspan::job::{
    BoreLand, Cut, DriveKind, Follower, FollowerSide, Force, Jaw, Job, Land, MaterialChoice, Pass, PassId, PassKind,
    SetTo, Stated, Stiffness, TailKind, TipKind, ToolSide,
};
use midspan::study::layout::Fineness;
use midspan::study::{PassResult, Shape, Status, Support, Surface, compute, shape_at, table};

use proptest::prelude::*;

use crate::bar_job::{Ends, bar, between, first_pass, set_push, spring_rest};
use crate::close::close;
use crate::random_job::{Lot, plain_job};

fn stiffness(lot: &mut Lot, low: f64, high: f64) -> Stiffness {
    if lot.chance(0.15) { Stiffness::Rigid } else { Stiffness::Spring(Stated::given(lot.tenfold(low, high))) }
}

fn pick(lot: &mut Lot, choices: &[f64]) -> f64 {
    choices[lot.below(choices.len())]
}

fn odd_jaw(lot: &mut Lot, angle_degrees: f64) -> Jaw {
    Jaw {
        angle_rad: angle_degrees.to_radians(),
        gap_mm: pick(lot, &[0.0, 0.0, 0.01, 1.0, 1000.0, -0.01, -0.5, -10.0]),
        k_n_per_mm: stiffness(lot, 1e2, 1e12),
    }
}

/// A job at some limit, that the program would still take.
fn odd_job(number: u64) -> Job {
    let mut lot = Lot(number.wrapping_mul(0x2545_f491_4f6c_dd1d));
    let diameter_mm = lot.tenfold(2.0, 100.0);
    let length_mm = (diameter_mm * lot.tenfold(1.0, 200.0)).clamp(3.0, 3000.0);
    let mut job = plain_job(length_mm, diameter_mm);
    let n_lands = [1, 1, 2, 40][lot.below(4)];
    job.shaft.stock = (0..n_lands)
        .map(|_| Land {
            length_mm: length_mm / n_lands as f64,
            start_diameter_mm: diameter_mm * lot.tenfold(0.5, 2.0),
            end_diameter_mm: diameter_mm * lot.tenfold(0.5, 2.0),
        })
        .collect();
    job.shaft.wanted.iter_mut().for_each(|wanted| {
        wanted.land.start_diameter_mm *= 0.9;
        wanted.land.end_diameter_mm *= 0.9;
    });
    if lot.chance(0.4) {
        let thinnest_mm = job.shaft.stock.iter().map(|land| land.start_diameter_mm.min(land.end_diameter_mm));
        let bore_mm = thinnest_mm.fold(f64::INFINITY, f64::min) * pick(&mut lot, &[0.3, 0.9, 0.99]);
        let to_s_mm = length_mm * pick(&mut lot, &[0.5, 1.0]);
        job.shaft.bores =
            vec![BoreLand { from_s_mm: 0.0, to_s_mm, start_diameter_mm: bore_mm, end_diameter_mm: bore_mm }];
    }
    job.shaft.material = MaterialChoice::Own(OwnMaterial {
        name: "odd".to_owned(),
        e_mpa: lot.tenfold(1e3, 1e6),
        poisson_ratio: pick(&mut lot, &[0.0, 0.3, 0.499]),
        density_kg_per_m3: pick(&mut lot, &[1e-9, 7850.0, 20_000.0]),
        growth_per_k: 1e-5,
        kc11_mpa: lot.tenfold(1.0, 1e5),
        mc: pick(&mut lot, &[0.0, 0.2, 0.99]),
        thrust_ratio: pick(&mut lot, &[0.0, 0.5, 10.0]),
    });
    job.lathe.headstock_k_n_per_mm = stiffness(&mut lot, 1e2, 1e12);
    job.lathe.tailstock_k_n_per_mm = stiffness(&mut lot, 1e2, 1e12);
    job.lathe.carriage_k_n_per_mm = stiffness(&mut lot, 1e2, 1e12);
    let setup = &mut job.setups[0];
    setup.end_for_end = lot.chance(0.3);
    setup.work_start_z_mm = 0.0;
    setup.drive.radial_k_n_per_mm = stiffness(&mut lot, 1e2, 1e12);
    setup.drive.rotation_k_nmm_per_rad = stiffness(&mut lot, 1e2, 1e15);
    if lot.chance(0.4) {
        setup.drive.kind = DriveKind::CentreAndDog;
        setup.drive.rotation_k_nmm_per_rad = Stiffness::assumed(pick(&mut lot, &[1e-6, 1.0]));
    }
    if lot.chance(0.3) {
        setup.tail.kind = TailKind::Free;
    }
    setup.tail.thrust_n = pick(&mut lot, &[0.0, 0.0, 10.0, 1e3, 1e7]);
    setup.tail.offset_x_mm = pick(&mut lot, &[0.0, 0.0, 0.1, -5.0, 100.0]);
    setup.tail.offset_y_mm = pick(&mut lot, &[0.0, 0.0, 0.1, 5.0, -100.0]);
    setup.rests = (0..lot.below(4) as u32)
        .map(|i| {
            let mut rest = spring_rest(50 + i, length_mm * lot.between(-0.1, 1.1), 1.0);
            rest.jaws = [0.0, 90.0, 180.0, 270.0].map(|degrees| odd_jaw(&mut lot, degrees)).to_vec();
            rest.set_to = if lot.chance(0.5) { SetTo::Work } else { SetTo::Axis };
            rest.offset_x_mm = pick(&mut lot, &[0.0, 0.0, 0.2, -100.0]);
            rest
        })
        .collect();
    if lot.chance(0.3) {
        setup.follower = Some(Follower {
            distance_mm: lot.tenfold(0.5, 500.0),
            side: if lot.chance(0.5) { FollowerSide::Behind } else { FollowerSide::Ahead },
            jaws: [odd_jaw(&mut lot, 0.0), odd_jaw(&mut lot, 90.0)],
            tip: TipKind::Bronze,
            tip_bored_mm: None,
            start_mm: 0.0,
        });
    }
    setup.tool.side = if lot.chance(0.3) { ToolSide::Rear } else { ToolSide::Front };
    setup.tool.entering_angle_rad = pick(&mut lot, &[10.0_f64, 45.0, 90.0, 130.0]).to_radians();
    setup.tool.nose_radius_mm = pick(&mut lot, &[0.0, 0.4, 100.0]);
    setup.tool.rake_rad = pick(&mut lot, &[-45.0_f64, 0.0, 45.0]).to_radians();
    setup.passes = (0..1 + lot.below(3)).map(|i| odd_pass(&mut lot, i, length_mm, diameter_mm)).collect();
    job
}

fn odd_pass(lot: &mut Lot, index: usize, length_mm: f64, diameter_mm: f64) -> Pass {
    let start_mm = lot.between(-0.1, 1.1) * length_mm;
    let end_mm = if lot.chance(0.3) { start_mm + 1.0 } else { lot.between(-0.2, 1.2) * length_mm };
    let force_n = |lot: &mut Lot| pick(lot, &[0.0, 1.0, 200.0, -50.0, 1e5]);
    let typed = Force::Typed {
        radial_n: force_n(lot),
        main_n: force_n(lot),
        feed_n: force_n(lot),
        follows_depth: lot.chance(0.5),
    };
    Pass {
        id: PassId(20 + index as u32),
        kind: if index > 0 && lot.chance(0.4) { PassKind::Spring } else { PassKind::Turn },
        from_z_mm: start_mm,
        to_z_mm: end_mm,
        cut: match lot.below(3) {
            0 => Cut::Depth { on_diameter_mm: pick(lot, &[0.0, 1e-3, 0.5, diameter_mm, 1e4]) },
            1 => Cut::ToDiameter { diameter_mm: pick(lot, &[1e-3, 0.5 * diameter_mm, 1e4]) },
            _ => Cut::ToDrawing { leave_on_diameter_mm: pick(lot, &[-1.0, 0.0, 0.3]) },
        },
        feed_mm_per_rev: pick(lot, &[1e-6, 0.1, 1000.0]),
        speed_rpm: pick(lot, &[1e-3, 300.0, 1e5]),
        force: if lot.chance(0.5) { typed } else { Force::FromCut },
    }
}

fn all_finite(values: &[f64]) -> bool {
    values.iter().all(|value| value.is_finite())
}

fn surface_is_finite(surface: &Surface) -> bool {
    surface.spans.iter().all(|span| {
        all_finite(&[
            span.from_s_mm,
            span.to_s_mm,
            span.start_diameter_mm,
            span.end_diameter_mm,
            span.start_dial_mm,
            span.end_dial_mm,
        ])
    })
}

/// Every number of a pass is one.
fn pass_is_finite(pass: &PassResult) -> bool {
    let stations = pass.stations.iter().all(|s| {
        all_finite(&[
            s.z_mm,
            s.wanted_diameter_mm,
            s.old_diameter_mm,
            s.left_diameter_mm,
            s.error_mm,
            s.spring_x_mm,
            s.spring_y_mm,
            s.real_depth_mm,
            s.fc_n,
            s.fp_n,
            s.ff_n,
            s.residual_mm,
        ])
    });
    let surfaces = [Some(&*pass.before), pass.behind.as_ref(), Some(&*pass.after)];
    stations && all_finite(&pass.forces_n) && surfaces.into_iter().flatten().all(surface_is_finite)
}

fn shape_is_finite(shape: &Shape) -> bool {
    let reactions: Vec<f64> = shape.reactions.iter().map(|reaction| reaction.force_n).collect();
    [&shape.z_mm, &shape.x_mm, &shape.y_mm, &shape.jaw_gaps_mm, &reactions].into_iter().all(|part| all_finite(part))
}

/// Direction a support pushes in: away, up.
fn direction(job: &Job, support: Support) -> [f64; 2] {
    let setup = &job.setups[0];
    let from = |jaw: &Jaw| [-jaw.angle_rad.cos(), -jaw.angle_rad.sin()];
    match support {
        Support::DriveX | Support::TailX => [1.0, 0.0],
        Support::DriveY | Support::TailY => [0.0, 1.0],
        Support::Jaw { rest, jaw } => from(&setup.rest(rest).unwrap().jaws[jaw]),
        Support::FollowerJaw { jaw } => from(&setup.follower.as_ref().unwrap().jaws[jaw]),
    }
}

/// Weight of the whole stock as if it were as thick as its thickest place.
fn weight_n(job: &Job) -> f64 {
    let kg_per_mm3 = job.material().density_kg_per_m3.value * 1e-9;
    FRAC_PI_4 * thickest_mm(job).powi(2) * job.shaft.length_mm() * kg_per_mm3 * 9.81
}

fn thickest_mm(job: &Job) -> f64 {
    job.shaft.stock.iter().map(|land| land.start_diameter_mm.max(land.end_diameter_mm)).fold(0.0, f64::max)
}

/// Bending stiffness of solid work as thin as a pass finds or leaves it at its thinnest place.
fn thinnest_ei_nmm2(job: &Job, pass: &PassResult) -> f64 {
    let thin_mm = pass.stations.iter().map(|station| station.left_diameter_mm.min(station.old_diameter_mm));
    job.material().e_mpa.value * PI / 64.0 * thin_mm.fold(f64::INFINITY, f64::min).powi(4)
}

/// How many digits the balance loses where hardly anything but the drive end keeps the work from swinging.
///
/// A force at the tool moves the drive end by `t A`, two numbers of the size `x²/kr` (`x` from the drive end to the tool,
/// `kr` the stiffness against turning) whose difference is `1/k`. What is rounded in either is a share of the stiffness
/// against turning of the work in front of the tool with the tool held, which is less than both `k x²` (the work rigid)
/// and `3 E I / x` (the drive end rigid): of the drive's force `min(k x², 3 E I / x) / kr`, here with the `x` for which
/// that is most. Of a centre that turns by 1e-6 N·mm/rad no digit may be left. A tailstock adds to `kr` what it holds
/// through the work, no less than `k L²` and `3 E I / L` of work as thin all along as at its thinnest place do one after
/// the other: behind a wire hardly anything.
fn lost_in_swinging_ratio(job: &Job, pass: &PassResult) -> f64 {
    let (setup, length_mm) = (&job.setups[0], job.shaft.length_mm());
    let mut held_nmm_per_rad = setup.drive.rotation_k_nmm_per_rad.value_or(1e15);
    if setup.tail.kind != TailKind::Free {
        let tail_nmm = job.lathe.tailstock_k_n_per_mm.value_or(1e12) * length_mm.powi(2);
        held_nmm_per_rad += 1.0 / (1.0 / tail_nmm + length_mm / (3.0 * thinnest_ei_nmm2(job, pass)));
    }
    let k_n_per_mm = setup.drive.radial_k_n_per_mm.value_or(1e12);
    let three_ei_nmm2 = 3.0 * job.material().e_mpa.value * PI / 64.0 * thickest_mm(job).powi(4);
    let x_mm = (three_ei_nmm2 / k_n_per_mm).cbrt().min(length_mm);
    k_n_per_mm * x_mm * x_mm / held_nmm_per_rad
}

/// No less than what solid work sags with one end let go, as if it were as thin all along as at its thinnest place: where a
/// cut leaves a wire, far more than it springs.
fn sag_mm(job: &Job, pass: &PassResult) -> f64 {
    weight_n(job) * job.shaft.length_mm().powi(3) / (3.0 * thinnest_ei_nmm2(job, pass))
}

/// How far the work gives way to a jaw that pushes it: by what the jaw is set over it, less what the jaw itself gives.
fn sprung_at_jaw_mm(job: &Job, support: Support, force_n: f64) -> f64 {
    let (setup, direction) = (&job.setups[0], direction(job, support));
    let (jaw, off_mm) = match support {
        Support::Jaw { rest, jaw } => {
            let rest = setup.rest(rest).unwrap();
            (&rest.jaws[jaw], rest.offset_x_mm * direction[0] + rest.offset_y_mm * direction[1])
        }
        Support::FollowerJaw { jaw } => (&setup.follower.as_ref().unwrap().jaws[jaw], 0.0),
        _ => return 0.0,
    };
    (off_mm - jaw.gap_mm - force_n / jaw.k_n_per_mm.value_or(1e12)).abs()
}

/// Roundings one upon the other while a number is carried over one node, counted along the longest way through the
/// formulas of a crossing (`mechanics/walk.rs`): four for the stiffness at the element's end, five for the denominator in
/// which it is, one for the inverse, one for the factor it makes, two for the rigid carry, two for the row itself.
const ROUNDINGS_A_NODE: f64 = 15.0;

/// What supports and tool push an all but weightless job with adds up to nothing but its weight and what is rounded.
///
/// An end's force is its stiffness times where it lies, and that is a sum of numbers no larger than the work's spring at
/// the tool and where jaws push it ([`sprung_at_jaw_mm`]), the tailstock's offset and what the work would sag by its weight with that end let go ([`sag_mm`]): of each `r eps` is lost at each of the `n` nodes it is carried over (Higham,
/// Accuracy and Stability of Numerical Algorithms, ch. 3, from memory: `n` roundings leave `n eps`; of the `r` in one node
/// [`ROUNDINGS_A_NODE`] says). So `r n eps k_i (spring + offset + sag)` for the ends, `r n eps` of all forces, and what
/// [`lost_in_swinging_ratio`] says. Which jaws touch does not come in otherwise: whatever they push, the ends must answer.
fn balance_is_kept(job: &Job, pass: &PassResult) -> Result<(), String> {
    let setup = &job.setups[0];
    let side = if setup.tool.side == ToolSide::Front { 1.0 } else { -1.0 };
    let (mut tail_k_n_per_mm, mut off_mm) = (0.0, 0.0);
    if setup.tail.kind != TailKind::Free {
        tail_k_n_per_mm = job.lathe.tailstock_k_n_per_mm.value_or(1e12);
        off_mm = setup.tail.offset_x_mm.hypot(setup.tail.offset_y_mm);
    }
    let drive_k_n_per_mm = setup.drive.radial_k_n_per_mm.value_or(1e12);
    // As many nodes as stations, and the parts outside the cut.
    let n_nodes = pass.stations.len() as f64 + Fineness::USUAL.parts_outside;
    let rounded_ratio = ROUNDINGS_A_NODE * n_nodes * f64::EPSILON;
    let (sag_mm, swinging_ratio) = (sag_mm(job, pass), lost_in_swinging_ratio(job, pass));
    for (index, station) in pass.stations.iter().enumerate() {
        let mut sum = [side * station.fp_n, side * station.fc_n];
        let mut size_n = station.fp_n.abs() + station.fc_n.abs();
        for (force_n, support) in pass.forces_at(index).iter().zip(&pass.supports) {
            let direction = direction(job, *support);
            sum[0] += direction[0] * force_n;
            sum[1] += direction[1] * force_n;
            size_n += force_n.abs();
        }
        let off_n = sum[0].abs().max(sum[1].abs());
        let forces = pass.forces_at(index).iter().zip(&pass.supports);
        let at_jaws_mm =
            forces.filter(|(force_n, _)| **force_n > 0.0).map(|(force_n, at)| sprung_at_jaw_mm(job, *at, *force_n));
        let spring_mm = at_jaws_mm.fold(station.spring_x_mm.hypot(station.spring_y_mm), f64::max);
        let ends_n = drive_k_n_per_mm * (spring_mm + sag_mm) + tail_k_n_per_mm * (spring_mm + off_mm + sag_mm);
        let swinging_n = swinging_ratio * size_n;
        let allowed_n = weight_n(job) + rounded_ratio * (size_n + ends_n + swinging_n);
        if off_n > allowed_n {
            return Err(format!(
                "forces at {} mm are {off_n:e} N off, of {size_n:e}: {allowed_n:e} N allowed",
                station.z_mm
            ));
        }
    }
    Ok(())
}

/// Everything that must hold of a job's results; the words of what does not.
fn faults(job: &Job) -> Vec<String> {
    let mut faults = Vec::new();
    let result = compute(job);
    let weightless = matches!(&job.shaft.material, MaterialChoice::Own(own) if own.density_kg_per_m3 < 1e-6);
    for pass in &result.setups[0].passes {
        if !pass_is_finite(pass) {
            faults.push(format!("pass {:?} ({:?}) holds what is no number", pass.pass, pass.status));
        }
        if pass.stations.len() * pass.supports.len() != pass.forces_n.len() {
            faults.push("not as many forces as stations".to_owned());
        }
        if pass.status == Status::Solved {
            for s in &pass.stations {
                // A tenth of the finest that any of these figures is shown to.
                if s.residual_mm > 1e-5 {
                    faults.push(format!("residual {:e} mm at {} mm", s.residual_mm, s.z_mm));
                    break;
                }
                if s.spring_x_mm.abs().max(s.spring_y_mm.abs()) > s.old_diameter_mm / 4.0 + 1e-9 {
                    faults.push(format!("solved, but sprung by {} mm", s.spring_x_mm.hypot(s.spring_y_mm)));
                    break;
                }
            }
            if weightless && let Err(why) = balance_is_kept(job, pass) {
                faults.push(why);
            }
        }
        for place in [0.0, 0.37, 1.0] {
            let pass_of_job = job.setups[0].pass(pass.pass).unwrap();
            let z_mm = pass_of_job.from_z_mm + (pass_of_job.to_z_mm - pass_of_job.from_z_mm) * place;
            let shape = shape_at(job, &result, job.setups[0].id, Some(pass.pass), Some(z_mm));
            if shape.is_some_and(|shape| !shape_is_finite(&shape) || shape.jaw_gaps_mm.iter().any(|gap| *gap < 0.0)) {
                faults.push(format!("shape at {z_mm} mm holds what is no number"));
            }
        }
    }
    let at_rest = shape_at(job, &result, job.setups[0].id, None, None);
    if at_rest.is_some_and(|shape| !shape_is_finite(&shape)) {
        faults.push("shape at rest holds what is no number".to_owned());
    }
    let csv = table::csv(job, &result);
    if csv.contains("NaN") || csv.contains("inf") {
        faults.push("the table holds what is no number".to_owned());
    }
    faults
}

/// Of thousands drawn the one that loses most: four times `eps` a node, its tool standing in the drive end's own node.
#[test]
fn a_tool_at_the_drive_end_keeps_the_balance_to_what_is_rounded() {
    assert_eq!(faults(&odd_job(732_868_354)), Vec::<String>::new());
}

/// Drawn once: a pass leaves wires of 1 µm between pieces up to 90 mm thick. What those sag is carried on as some 1e7 mm,
/// of which the tailstock's place keeps what is rounded: 1.4e-14 mm, in proportion to the weight.
#[test]
fn wires_between_thick_pieces_keep_the_balance_to_what_is_rounded() {
    assert_eq!(faults(&odd_job(268_655_816)), Vec::<String>::new());
}

/// Drawn once: behind a wire of 26 µm a dog of 1 N·mm/rad is all that keeps the driven end from swinging on its jaws (with
/// one of 100 N·mm/rad a two hundredth of the error is left).
#[test]
fn an_end_that_swings_behind_a_wire_keeps_the_balance_to_what_is_rounded() {
    assert_eq!(faults(&odd_job(3_560_269_506)), Vec::<String>::new());
}

/// Drawn once: a jaw presses the work 0.4 mm aside in its middle, while the tool stands at the chuck where it gives nothing.
#[test]
fn work_that_a_jaw_presses_far_from_the_tool_keeps_the_balance_to_what_is_rounded() {
    assert_eq!(faults(&odd_job(3_970_891_006)), Vec::<String>::new());
}

/// Drawn once: jaws press with 35 MN, nothing holds the work, and a turn of it has no figures.
#[test]
fn a_turn_without_figures_leaves_none_in_the_table() {
    assert_eq!(faults(&odd_job(2_993_737_461)), Vec::<String>::new());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 250, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn jobs_at_the_limits_come_out_as_numbers_that_keep_their_equations(number in any::<u32>()) {
        let job = odd_job(u64::from(number));
        prop_assert_eq!(job.validate(), Ok(()));
        let faults = faults(&job);
        prop_assert!(faults.is_empty(), "job {}: {:?}", number, faults);
    }
}

/// Jaws a kilometre away (farther than may be typed) leave the work as if there were none.
#[test]
fn jaws_a_kilometre_away_are_no_jaws() {
    let bare = plain_job(700.0, 20.0);
    let mut far = bare.clone();
    far.setups[0].rests = [150.0, 350.0, 500.0]
        .into_iter()
        .zip(50..)
        .map(|(z_mm, number)| {
            let mut rest = spring_rest(number, z_mm, 1e5);
            rest.jaws.iter_mut().for_each(|jaw| jaw.gap_mm = 1e6);
            rest
        })
        .collect();
    let (bare, far) = (compute(&bare), compute(&far));
    let passes = (&bare.setups[0].passes[0], &far.setups[0].passes[0]);
    assert_eq!((passes.0.status, passes.1.status), (Status::Solved, Status::Solved));
    let mut n_compared = 0;
    for station in &passes.0.stations {
        // The rests are nodes of their own, so only the thrust's mesh error differs.
        let found = between(passes.1, station.z_mm, |far| far.error_mm);
        close(found, station.error_mm, 1e-5, 1e-9);
        n_compared += 1;
    }
    assert!(n_compared >= 200);
    assert!((0..passes.1.stations.len()).all(|i| passes.1.forces_at(i)[4..].iter().all(|force_n| *force_n == 0.0)));
}

/// Twelve jaws, pressed in by a tenth on every side of three rests, all push, and hold the work where it was.
#[test]
fn twelve_jaws_pressed_in_all_push_and_cancel() {
    let mut job = plain_job(700.0, 20.0);
    job.setups[0].rests = [150.0, 350.0, 500.0]
        .into_iter()
        .zip(50..)
        .map(|(z_mm, number)| {
            let mut rest = spring_rest(number, z_mm, 1e4);
            rest.jaws.iter_mut().for_each(|jaw| jaw.gap_mm = -0.1);
            rest
        })
        .collect();
    let result = compute(&job);
    let pass = &result.setups[0].passes[0];
    assert_eq!(pass.status, Status::Solved);
    for station in 0..pass.stations.len() {
        let jaws_n = &pass.forces_at(station)[4..];
        assert_eq!(jaws_n.len(), 12);
        // Two facing jaws share what they are pressed in by: together twice 0.1 mm of 10 kN/mm.
        for rest in jaws_n.chunks(4) {
            for facing in [[0, 2], [1, 3]] {
                close(rest[facing[0]] + rest[facing[1]], 2.0 * 0.1 * 1e4, 1e-9, 0.0);
                assert!(rest[facing[0]] > 500.0 && rest[facing[1]] > 500.0);
            }
        }
    }
}

/// A bar on one point that nothing else holds but a trace of stiffness against turning: a chip of a millionth of a
/// micrometre swings it away from the tool, and what is left is what was there. The depth is found to the digits it has.
#[test]
fn work_that_all_but_swings_is_cut_to_the_digits_there_are() {
    for turning_nmm_per_rad in [1e3, 1.0, 1e-3, 1e-6] {
        let mut job = bar(&[(100.0, 30.0)], Ends::TwoCentres, 2e5);
        job.setups[0].tail.kind = TailKind::Free;
        job.setups[0].drive.rotation_k_nmm_per_rad = Stiffness::assumed(turning_nmm_per_rad);
        job.setups[0].passes[0].cut = Cut::Depth { on_diameter_mm: 0.5 };
        job.setups[0].passes[0].to_z_mm = 50.0;
        job.setups[0].passes[0].force =
            Force::Typed { radial_n: 50.0, main_n: 100.0, feed_n: 0.0, follows_depth: true };
        let pass = first_pass(&job);
        for station in &pass.stations {
            assert!(station.residual_mm < 1e-6, "{turning_nmm_per_rad}: {:e} mm left over", station.residual_mm);
            close(station.left_diameter_mm, 30.0, 1e-3 * turning_nmm_per_rad.max(1e-3), 0.0);
        }
    }
}

/// Source: give of two sprung ends, F·(((L-x)/L)²/k1 + (x/L)²/k2), beside the bar's own between rigid ones (any process
/// text); from 100 N/mm to 1e12 N/mm, the digits of the ends must not be lost in those of the bar nor the other way.
#[test]
fn ends_from_soft_to_rigid_give_their_own_share_to_many_digits() {
    let length_mm = 600.0;
    let spring_mm = |k1: Option<f64>, k2: Option<f64>, x_mm: f64| {
        let mut job = bar(&[(length_mm, 40.0)], Ends::TwoCentres, 2e5);
        let k = |k: Option<f64>| k.map_or(Stiffness::Rigid, |k| Stiffness::Spring(Stated::given(k)));
        job.lathe.headstock_k_n_per_mm = k(k1);
        job.lathe.tailstock_k_n_per_mm = k(k2);
        set_push(&mut job, 100.0, false);
        between(&first_pass(&job), x_mm, |station| station.spring_x_mm)
    };
    for x_mm in [0.0, 150.0, 300.0, 600.0] {
        let rigid = spring_mm(None, None, x_mm);
        for (k1, k2) in [(1e2, 1e2), (1e2, 1e12), (1e5, 1e3), (1e9, 1e9), (1e12, 1e12)] {
            let own = (((length_mm - x_mm) / length_mm).powi(2) / k1 + (x_mm / length_mm).powi(2) / k2) * 100.0;
            // A rigid end is 1e12 N/mm itself, and a hinge of the headstock centre is held by 1e-3 N mm/rad.
            close(spring_mm(Some(k1), Some(k2), x_mm), rigid + own, 1e-9, 3e-10);
        }
    }
}

/// Source: a tube with a bore of 99 % has 1 - 0.99⁴ = 3.94 % of the stiffness of the bar (any beam table); it is so slender
/// here that shear is below 0.2 %.
#[test]
fn bore_of_ninety_nine_percent_leaves_four_percent_of_the_stiffness() {
    let (length_mm, diameter_mm) = (2000.0, 20.0);
    let spring_mm = |bore_mm: f64| {
        let mut job = bar(&[(length_mm, diameter_mm)], Ends::TwoCentres, 2e5);
        if bore_mm > 0.0 {
            job.shaft.bores = vec![BoreLand {
                from_s_mm: 0.0,
                to_s_mm: length_mm,
                start_diameter_mm: bore_mm,
                end_diameter_mm: bore_mm,
            }];
        }
        set_push(&mut job, 1.0, false);
        between(&first_pass(&job), length_mm / 2.0, |station| station.spring_x_mm)
    };
    close(spring_mm(0.0) / spring_mm(0.99 * diameter_mm), 1.0 - 0.99_f64.powi(4), 2e-3, 0.0);
}

/// What is done to a job.
type Change = fn(&mut Job);

/// A number that is none cannot be typed or read from a file; should one arise all the same, no pass is called solved
/// with nothing but numbers in it, as if nothing had happened: `f64::max` and comparisons drop NaN.
#[test]
fn what_is_no_number_is_never_called_solved() {
    let changes: [(&str, Change); 9] = [
        ("push", |job| set_push(job, f64::NAN, false)),
        ("stiffness", |job| match &mut job.shaft.material {
            MaterialChoice::Own(own) => own.e_mpa = f64::NAN,
            MaterialChoice::Listed(_) => unreachable!("the bar has its own material"),
        }),
        ("weight", |job| match &mut job.shaft.material {
            MaterialChoice::Own(own) => own.density_kg_per_m3 = f64::NAN,
            MaterialChoice::Listed(_) => unreachable!("the bar has its own material"),
        }),
        ("headstock", |job| job.lathe.headstock_k_n_per_mm = Stiffness::Spring(Stated::given(f64::NAN))),
        ("carriage", |job| job.lathe.carriage_k_n_per_mm = Stiffness::Spring(Stated::given(f64::NAN))),
        ("tailstock offset", |job| job.setups[0].tail.offset_x_mm = f64::NAN),
        ("rest offset", |job| job.setups[0].rests[0].offset_x_mm = f64::NAN),
        ("jaw gap", |job| job.setups[0].rests[0].jaws[1].gap_mm = f64::NAN),
        ("jaw stiffness", |job| {
            job.setups[0].rests[0].jaws[0].k_n_per_mm = Stiffness::Spring(Stated::given(f64::NAN));
        }),
    ];
    let mut missed = Vec::new();
    for (name, change) in changes {
        let mut job = bar(&[(600.0, 20.0)], Ends::ChuckAndCentre, 2e5);
        job.setups[0].rests = vec![spring_rest(50, 300.0, 1e4)];
        set_push(&mut job, 50.0, false);
        change(&mut job);
        assert!(job.validate().is_err(), "{name}: no such job is let in");
        let result = compute(&job);
        let pass = &result.setups[0].passes[0];
        if pass.status == Status::Solved {
            missed.push(name);
        }
    }
    assert!(missed.is_empty(), "solved with what is no number: {missed:?}");
}
