//! Details of the lathe: what a tape measure and the plate on the headstock say.

use crate::app::Commands;
use crate::app::entry;
use crate::app::fields::Fields;
use crate::job::quantity::{self, Kind};
use crate::job::{Edit, Job, Lathe};

/// Every field of the lathe.
pub fn lathe_ui(fields: &mut Fields<'_>, job: &Job, out: &mut Commands) {
    let mut new = job.lathe.clone();
    fields.hint("Start from the generic lathe nearest to yours, then type what you measure: its own figures replace the assumed ones.");
    fields.ui.horizontal_wrapped(|ui| {
        for (words, lathe) in generic() {
            if ui.button(words).on_hover_text("Put in this generic lathe; every figure is assumed").clicked() {
                new = lathe;
                fields.changed = true;
            }
        }
    });
    fields.words("Name", &mut new.name);
    room_rows(fields, &mut new);
    rest_rows(fields, &mut new);
    tail_rows(fields, &mut new);
    fields.heading("Speeds, feeds, power");
    list(fields, "Speeds, rpm", &mut new.speeds_rpm, Kind::SpindleSpeed);
    list(fields, "Feeds per turn", &mut new.feeds_mm_per_rev, Kind::Feed);
    fields.stated("Power", &mut new.power_kw, Kind::Power);
    fields.stated("Heaviest work between centres", &mut new.max_work_kg, Kind::Mass);
    fields.heading("How much it gives");
    let usual = Lathe::medium();
    fields.stiffness(
        "Spindle nose",
        &mut new.headstock_k_n_per_mm,
        Kind::Stiffness,
        usual.headstock_k_n_per_mm.value_or(100_000.0),
    );
    fields.stiffness(
        "Tailstock, quill in",
        &mut new.tailstock_k_n_per_mm,
        Kind::Stiffness,
        usual.tailstock_k_n_per_mm.value_or(50_000.0),
    );
    fields.stated("Left with the quill out", &mut new.quill_out_stiffness_ratio, Kind::Ratio);
    fields.stiffness(
        "Tailstock along the bed",
        &mut new.tailstock_axial_k_n_per_mm,
        Kind::Stiffness,
        usual.tailstock_axial_k_n_per_mm.value_or(50_000.0),
    );
    fields.stated("Spring-loaded centre along the bed", &mut new.spring_centre_k_n_per_mm, Kind::Stiffness);
    fields.hint("Along the bed: what the work pushes back when it warms and grows between the ends.");
    fields.stiffness(
        "Carriage and tool post",
        &mut new.carriage_k_n_per_mm,
        Kind::Stiffness,
        usual.carriage_k_n_per_mm.value_or(30_000.0),
    );
    if fields.changed {
        out.edits.push(Edit::SetLathe(new));
    }
}

/// The generic lathes with the words on their buttons.
pub fn generic() -> [(&'static str, Lathe); 3] {
    [("small", Lathe::small()), ("medium", Lathe::medium()), ("large", Lathe::large())]
}

fn room_rows(fields: &mut Fields<'_>, lathe: &mut Lathe) {
    fields.heading("Room");
    fields.stated("Swing over the bed", &mut lathe.swing_over_bed_mm, Kind::Length);
    fields.stated("Swing over the cross slide", &mut lathe.swing_over_cross_slide_mm, Kind::Length);
    fields.stated("Between centres", &mut lathe.between_centres_mm, Kind::Length);
    fields.stated("Spindle bore", &mut lathe.spindle_bore_mm, Kind::Length);
    fields.stated("Headstock length", &mut lathe.headstock_length_mm, Kind::Length);
    fields.stated("Chuck diameter", &mut lathe.chuck_diameter_mm, Kind::Length);
    fields.stated("Chuck's highest speed", &mut lathe.chuck_max_rpm, Kind::SpindleSpeed);
    fields.stated("Depth of the jaws", &mut lathe.jaw_depth_mm, Kind::Length);
    fields.stated("Carriage left of the tool", &mut lathe.carriage_left_mm, Kind::Length);
    fields.stated("Carriage right of the tool", &mut lathe.carriage_right_mm, Kind::Length);
    fields.stated("Holder left of the tool", &mut lathe.holder_left_mm, Kind::Length);
    fields.stated("Holder right of the tool", &mut lathe.holder_right_mm, Kind::Length);
    fields.stated("Nearest the tool comes to the jaws", &mut lathe.nearest_to_jaws_mm, Kind::Length);
    fields.check("The wings run past the tailstock", &mut lathe.wings_pass_tailstock);
    fields.hint(
        "Carriage: to the ends of its wings. Holder: cross slide and tool holder, what stands higher than they do.",
    );
}

fn rest_rows(fields: &mut Fields<'_>, lathe: &mut Lathe) {
    fields.heading("Rests");
    fields.stated("Base of the steady", &mut lathe.rest_base_mm, Kind::Length);
    fields.check("The wings run past its base", &mut lathe.wings_pass_rest);
    fields.stated("Width of its jaws", &mut lathe.rest_jaw_width_mm, Kind::Length);
    fields.stated("Tips, length around the work", &mut lathe.pad_length_mm, Kind::Length);
    fields.stated("Rollers, diameter", &mut lathe.roller_diameter_mm, Kind::Diameter);
    fields.stated("Steady, smallest work", &mut lathe.rest_min_diameter_mm, Kind::Diameter);
    fields.stated("Steady, largest work", &mut lathe.rest_max_diameter_mm, Kind::Diameter);
    fields.stated("Steady, bore of its frame", &mut lathe.rest_bore_mm, Kind::Diameter);
    fields.stated("Follower, smallest work", &mut lathe.follower_min_diameter_mm, Kind::Diameter);
    fields.stated("Follower, largest work", &mut lathe.follower_max_diameter_mm, Kind::Diameter);
    fields.stated("Follower, width along the work", &mut lathe.follower_width_mm, Kind::Length);
}

fn tail_rows(fields: &mut Fields<'_>, lathe: &mut Lathe) {
    fields.heading("Tailstock");
    fields.stated("Base of the tailstock", &mut lathe.tailstock_base_mm, Kind::Length);
    fields.stated("Quill travel", &mut lathe.quill_travel_mm, Kind::Length);
    fields.stated("Quill diameter", &mut lathe.quill_diameter_mm, Kind::Diameter);
    fields.stated("Centre sticks out by", &mut lathe.centre_length_mm, Kind::Length);
}

/// A list of numbers in one field, with spaces or semicolons between. A list that cannot be read stays as it was typed.
fn list(fields: &mut Fields<'_>, label: &str, values: &mut Vec<f64>, kind: Kind) {
    #[derive(Clone, Default)]
    struct Refused {
        text: String,
        why: String,
    }
    let units = fields.units;
    let refused_id = fields.ui.make_persistent_id((label, "refused"));
    let refused: Refused = fields.ui.data(|data| data.get_temp(refused_id)).unwrap_or_default();
    let mut text = if refused.text.is_empty() {
        values.iter().map(|value| quantity::show_for_entry(*value, kind, units)).collect::<Vec<_>>().join("  ")
    } else {
        refused.text
    };
    let was_changed = fields.changed;
    if fields.words(label, &mut text) {
        let read: Result<Vec<f64>, _> = text
            .split(|c: char| c.is_whitespace() || c == ';')
            .filter(|part| !part.is_empty())
            .map(|part| quantity::parse(part, kind, units))
            .collect();
        let refused = match read {
            Ok(mut read) => {
                read.sort_by(f64::total_cmp);
                *values = read;
                Refused::default()
            }
            Err(error) => {
                fields.changed = was_changed;
                Refused { text, why: error.to_string() }
            }
        };
        fields.ui.data_mut(|data| data.insert_temp(refused_id, refused));
    }
    if !refused.why.is_empty() {
        entry::error_ui(fields.ui, Some(&refused.why));
    }
    if values.is_empty() {
        fields.hint("Empty: any value can be set.");
    }
}
