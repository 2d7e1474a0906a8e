//! The axis along the bed: its numbers in the user's units, and the lines of the grid that stand on it.

use std::ops::RangeInclusive;

use egui::{FontId, Rangef};
use egui_plot::{AxisHints, GridInput, GridMark};

use crate::app::Palette;
use crate::job::Units;

/// Height of the numbers under the lowest plot.
pub const Z_AXIS_THICKNESS: f32 = 20.0;
/// Lines of the z grid nearer to each other than this are not drawn, and from the second on they are at their strongest.
pub const GRID_SPACING: Rangef = Rangef { min: 14.0, max: 120.0 };
/// Numbers along z stand no nearer to each other than this, and whole numbers with a fraction than that.
const LABEL_SPACING: f32 = 44.0;
const FRACTION_SPACING: f32 = 60.0;
/// Steps from number to number in mm.
const METRIC_STEPS_MM: [f64; 18] = [
    0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0, 20_000.0,
    50_000.0,
];
/// Steps from number to number in inches.
const INCH_STEPS_IN: [f64; 16] = [
    1.0 / 64.0,
    1.0 / 32.0,
    1.0 / 16.0,
    0.125,
    0.25,
    0.5,
    1.0,
    2.0,
    5.0,
    10.0,
    20.0,
    50.0,
    100.0,
    200.0,
    500.0,
    1000.0,
];

/// The axis under the lowest plot.
pub fn z_axis<'a>(units: Units, font: FontId, palette: &Palette) -> AxisHints<'a> {
    AxisHints::new_x()
        .formatter(move |mark: GridMark, _: &RangeInclusive<f64>| z_label(&mark, units))
        .min_thickness(Z_AXIS_THICKNESS)
        // Told or not told: a number half faded out is no number to a reader with glasses.
        .label_spacing(Rangef::new(LABEL_SPACING - 0.02, LABEL_SPACING - 0.01))
        .tick_label_color(palette.ink_weak)
        .tick_label_font(font)
}

/// From line to line of the z grid: without numbers, with them, and drawn strongest.
pub fn z_steps(input: &GridInput, units: Units) -> [f64; 3] {
    let point_mm = input.base_step_size / f64::from(GRID_SPACING.min);
    let (ladder, unit_mm): (&[f64], f64) = match units {
        Units::Metric => (&METRIC_STEPS_MM, 1.0),
        Units::Inch => (&INCH_STEPS_IN, 25.4),
    };
    let is_fraction = |step: f64| units == Units::Inch && step < 1.0;
    let has_room = |step: &f64| {
        let room = if is_fraction(*step) { FRACTION_SPACING } else { LABEL_SPACING };
        step * unit_mm >= f64::from(room) * point_mm
    };
    let step = ladder.iter().copied().find(has_room).unwrap_or(ladder[ladder.len() - 1]);
    // Of a fraction, an inch and two units quarters, of all else fifths.
    let leads_with_two = (0.2..0.6).contains(&step.log10().rem_euclid(1.0));
    let in_quarters = is_fraction(step) || leads_with_two || (units == Units::Inch && step == 1.0);
    let (parts, times) = (if in_quarters { 4.0 } else { 5.0 }, if is_fraction(step) { 4.0 } else { 10.0 });
    [step / parts, step, step * times].map(|step| step * unit_mm)
}

/// A place on the bed: whole millimetres, or inches with sixteenths as a fraction.
fn z_label(mark: &GridMark, units: Units) -> String {
    match units {
        Units::Metric => {
            let decimals = usize::from(mark.step_size < 0.999);
            format!("{:.*}", decimals, mark.value + 0.0)
        }
        Units::Inch => inch_label(mark.value / 25.4),
    }
}

fn inch_label(inches: f64) -> String {
    let parts = (inches * 64.0).round();
    let whole = (parts.abs() / 64.0).floor();
    let (mut top, mut bottom) = (parts.abs() - 64.0 * whole, 64.0);
    while top > 0.0 && top % 2.0 == 0.0 {
        top /= 2.0;
        bottom /= 2.0;
    }
    let sign = if parts < 0.0 { "-" } else { "" };
    if top == 0.0 {
        format!("{sign}{whole:.0}")
    } else if whole == 0.0 {
        format!("{sign}{top:.0}/{bottom:.0}")
    } else {
        format!("{sign}{whole:.0} {top:.0}/{bottom:.0}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// However far the view is drawn in or out, numbers have their room and lie no more than three times as far apart.
    #[test]
    fn numbers_along_z_stand_neither_too_near_nor_too_far_apart() {
        for units in [Units::Metric, Units::Inch] {
            for tenth in 0..150 {
                let point_mm = 0.003 * 1.07_f64.powi(tenth);
                let input = GridInput { bounds: (0.0, 676.0 * point_mm), base_step_size: 14.0 * point_mm };
                let [fine, step, strong] = z_steps(&input, units).map(|step_mm| step_mm / point_mm);
                let finest = step * point_mm < 0.5;
                assert!(step >= 44.0 && (step <= 132.0 || finest), "{units:?} {point_mm}: {step}");
                assert!(fine < 43.0 || finest, "{units:?} {point_mm}: {fine}");
                for ratio in [step / fine, strong / step] {
                    assert!((ratio - ratio.round()).abs() < 1e-9 && ratio > 3.0, "{units:?} {point_mm}: {ratio}");
                }
            }
        }
    }

    #[test]
    fn inches_are_labelled_in_fractions() {
        assert_eq!(inch_label(0.0), "0");
        assert_eq!(inch_label(12.25), "12 1/4");
        assert_eq!(inch_label(0.0625), "1/16");
        assert_eq!(inch_label(-1.5), "-1 1/2");
        assert_eq!(inch_label(3.999_999_9), "4");
    }
}
