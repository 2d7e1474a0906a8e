//! Details of the tool: its edge, and where it stands in the pass looked at.

use crate::app::fields::Fields;
use crate::app::{Commands, View};
use crate::job::quantity::Kind;
use crate::job::{Edit, Setup, Tool, ToolMaterial, ToolSide, ToolWear};

/// Every field of the tool, and its place.
pub fn tool_ui(fields: &mut Fields<'_>, setup: &Setup, view: &mut View, out: &mut Commands) {
    if let Some(pass) = view.pass.and_then(|pass| setup.pass(pass)) {
        let mut z_mm = view.tool_z_mm;
        let (low_mm, high_mm) = pass.span_mm();
        if fields.number("Place from the jaw face", &mut z_mm, Kind::Length) {
            view.tool_z_mm = z_mm.clamp(low_mm, high_mm);
        }
        fields.hint("Where the tool is looked at; it stays within the pass.");
        fields.changed = false;
    }
    let mut new: Tool = setup.tool.clone();
    fields.choice("Stands at the", &mut new.side, &[(ToolSide::Front, "front"), (ToolSide::Rear, "rear")]);
    fields.choice(
        "Edge of",
        &mut new.material,
        &[(ToolMaterial::HighSpeedSteel, "high-speed steel"), (ToolMaterial::Carbide, "carbide")],
    );
    fields.number("Entering angle", &mut new.entering_angle_rad, Kind::Angle);
    fields.number("Nose radius", &mut new.nose_radius_mm, Kind::Length);
    fields.number("Rake", &mut new.rake_rad, Kind::Angle);
    fields.choice(
        "Wear",
        &mut new.wear,
        &[(ToolWear::Sharp, "sharp"), (ToolWear::Used, "used"), (ToolWear::Blunt, "blunt")],
    );
    fields
        .hint("The entering angle lies between the edge and the direction of feed: 90 degrees pushes least sideways.");
    if fields.changed {
        out.edits.push(Edit::SetTool { setup: setup.id, tool: new });
    }
}
