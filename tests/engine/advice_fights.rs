//! The force with which a rest fights the work: against published figures, and the rules that tell it.

use midspan::advice::{Finding, Verdict, fights::fight_n, findings};
use midspan::job::material::OwnMaterial;
use midspan::job::{Job, Land, MaterialChoice, Sleeve, Subject, TailKind};
use midspan::study::compute;

use crate::close::close;
use crate::quiet::{REST, SETUP, job, land, steady};
use crate::quiet_result::result;
use crate::remarks::remarks;

const INCH_MM: f64 = 25.4;
const POUND_N: f64 = 4.448_221_615_260_5;

/// Share by which shear makes a cantilever of steel give more than its bending alone, at its end: `3EI/(κ G A L²)`.
///
/// Source: G. R. Cowper (1966), κ of a round section 6(1 + ν)/(7 + 6ν).
fn shear_share(diameter_mm: f64, length_mm: f64, poisson_ratio: f64) -> f64 {
    let kappa = 6.0 * (1.0 + poisson_ratio) / (7.0 + 6.0 * poisson_ratio);
    3.0 * 2.0 * (1.0 + poisson_ratio) * diameter_mm * diameter_mm / (16.0 * kappa * length_mm * length_mm)
}

/// A bar of 1 in in a rigid chuck, without a tailstock, in a rest set to the work and then moved.
pub fn bar_in_a_rest_in(from_chuck_in: f64, off_mm: [f64; 2]) -> Job {
    let mut job = job();
    job.shaft.material = MaterialChoice::Own(OwnMaterial {
        name: "steel".to_owned(),
        e_mpa: 30e6 * POUND_N / (INCH_MM * INCH_MM),
        poisson_ratio: 0.3,
        density_kg_per_m3: 7850.0,
        growth_per_k: 11.5e-6,
        kc11_mpa: 2100.0,
        mc: 0.17,
        thrust_ratio: 0.5,
    });
    job.shaft.stock = vec![land(25.0 + from_chuck_in * INCH_MM + 20.0, INCH_MM)];
    job.setups[0].tail.kind = TailKind::Free;
    let mut rest = steady(from_chuck_in * INCH_MM);
    [rest.offset_x_mm, rest.offset_y_mm] = off_mm;
    job.setups[0].rests.push(rest);
    job
}

/// Source: lesson S-E of the trade-practice notes, `3EI e/L³` with E 30e6 psi: a bar of 1 in, a rest 0.010 in off, 4, 6, 8,
/// 12 and 20 in from the chuck presses with 690, 205, 86, 26 and 5.5 lbf. The printed figures are of bending alone, so
/// shear is taken off what is computed; they must come back to the last digit printed.
#[test]
fn a_rest_off_the_axis_fights_as_hard_as_the_lesson_says() {
    let printed_lbf = [(4.0, 690.0, 0.5), (6.0, 205.0, 0.5), (8.0, 86.0, 0.5), (12.0, 26.0, 0.5), (20.0, 5.5, 0.05)];
    for (from_chuck_in, printed_lbf, half_digit_lbf) in printed_lbf {
        for off_mm in [[0.010 * INCH_MM, 0.0], [-0.010 * INCH_MM, 0.0], [0.0, 0.010 * INCH_MM]] {
            let job = bar_in_a_rest_in(from_chuck_in, off_mm);
            let force_n = fight_n(&job, &compute(&job), SETUP, &job.setups[0].rests[0]).expect("solved");
            let of_bending_n = force_n * (1.0 + shear_share(INCH_MM, from_chuck_in * INCH_MM, 0.3));
            close(of_bending_n / POUND_N, printed_lbf, 0.0, half_digit_lbf);
        }
    }
}

#[test]
fn a_rest_set_to_the_work_and_left_there_does_not_fight() {
    let job = bar_in_a_rest_in(8.0, [0.0, 0.0]);
    let force_n = fight_n(&job, &compute(&job), SETUP, &job.setups[0].rests[0]).expect("solved");
    close(force_n, 0.0, 0.0, 1e-6);
}

/// One finding, with its force: the rule about the offset tells the fight as well.
#[test]
fn a_rest_off_the_axis_is_told_once_with_its_force() {
    let mut job = bar_in_a_rest_in(4.0, [0.010 * INCH_MM, 0.0]);
    job.units = midspan::job::Units::Inch;
    let told: Vec<Finding> = findings(&job, &compute(&job))
        .into_iter()
        .filter(|finding| finding.about == Subject::Rest(SETUP, REST) && ["off_axis", "fights"].contains(&finding.rule))
        .collect();
    assert_eq!(told.iter().map(|finding| finding.rule).collect::<Vec<_>>(), ["off_axis"]);
    // 690.3 lbf of bending alone, less 3.3 % for shear, to 5 lbf.
    assert!(told[0].text.contains("with no cut it presses the work with 665 lbf"), "{}", told[0].text);
    assert!(
        told[0].why.contains("walk out of the chuck") && told[0].why.contains("close to the jaws for such thick work")
    );
    // Far out and gripped deep there is nothing to add to the plain warning.
    let mut far = bar_in_a_rest_in(20.0, [0.010 * INCH_MM, 0.0]);
    far.setups[0].drive.grip_mm = 40.0;
    let told = findings(&far, &compute(&far)).into_iter().find(|finding| finding.rule == "off_axis").expect("told");
    assert!(told.why.contains("walk out of the chuck") && !told.why.contains("here the"), "{}", told.why);
}

/// By hand: a bar bent by 0.2 mm over 325 mm and held straight at its end swings `4 x 0.2 (275/325)² - ...`: from the
/// jaw face on it leaves the axis by `4 TIR z²/L²` in all, 473 µm at 250 mm; jaws that keep it there press with
/// `3EI/L³` of half of that, 1180 N, less 1 % for shear.
#[test]
fn a_rest_fights_a_bent_bar_once_a_turn() {
    let mut job = job();
    job.setups[0].tail.kind = TailKind::Free;
    job.setups[0].rests.push(steady(250.0));
    let quiet = |job: &Job| -> Vec<Finding> {
        findings(job, &result(job)).into_iter().filter(|finding| finding.rule == "fights").collect()
    };
    assert_eq!(quiet(&job), vec![]);
    job.shaft.bow_tir_mm = 0.2;
    let found = quiet(&job);
    assert_eq!(found.len(), 1, "{found:#?}");
    assert_eq!((found[0].about, found[0].verdict), (Subject::Rest(SETUP, REST), Verdict::Watch));
    assert!(found[0].text.contains("would swing 473 \u{b5}m"), "{}", found[0].text);
    let bending_n = 3.0 * 207_000.0 * std::f64::consts::PI * 40f64.powi(4) / 64.0 * 0.2367 / 250f64.powi(3);
    let force_n = bending_n / (1.0 + shear_share(40.0, 250.0, 0.3));
    let words = format!("up to {:.0} N once a turn", (force_n / 10.0).round() * 10.0);
    assert!(found[0].text.contains(&words), "{words}: {}", found[0].text);
    job.setups[0].rests[0].sleeve = Sleeve::CatHead { diameter_mm: 60.0, width_mm: 30.0 };
    assert_eq!(quiet(&job), vec![], "a cat head is set to run true");
}

#[test]
fn a_bar_that_is_hardly_bent_is_not_fought() {
    let mut job = job();
    job.setups[0].rests.push(steady(15.0));
    job.shaft.bow_tir_mm = 0.002;
    job.setups[0].rests[0].jaws.iter_mut().for_each(|jaw| jaw.k_n_per_mm = midspan::job::Stiffness::assumed(20_000.0));
    assert_eq!(remarks(&job, &result(&job)), vec![]);
}

/// A slender stretch of the same bar yields: the fight falls with the fourth power of the diameter.
#[test]
fn thin_work_is_fought_far_less_than_thick() {
    let force_n = |diameter_mm: f64| {
        let mut job = bar_in_a_rest_in(8.0, [0.254, 0.0]);
        let length_mm = job.shaft.length_mm();
        job.shaft.stock = vec![Land::cylinder(length_mm, diameter_mm)];
        let force_n = fight_n(&job, &compute(&job), SETUP, &job.setups[0].rests[0]).expect("solved");
        force_n * (1.0 + shear_share(diameter_mm, 8.0 * INCH_MM, 0.3))
    };
    close(force_n(30.0) / force_n(15.0), 16.0, 0.001, 0.0);
}
