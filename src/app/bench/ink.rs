//! The colour of each role on the screen, from the window's palette.

use egui::Color32;

use crate::app::Palette;
use crate::picture::{Line, Role, TextSize};

/// Colours of one role.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ink {
    pub line: Color32,
    pub solid: Color32,
    pub soft: Color32,
}

/// `share` of `a`, the rest of `b`.
fn mix(a: Color32, b: Color32, share: f32) -> Color32 {
    let one = |a: u8, b: u8| (f32::from(a) * share + f32::from(b) * (1.0 - share)).round().clamp(0.0, 255.0) as u8;
    Color32::from_rgb(one(a.r(), b.r()), one(a.g(), b.g()), one(a.b(), b.b()))
}

/// The colours of a role.
#[must_use]
pub fn ink(role: Role, palette: &Palette) -> Ink {
    let ground = palette.canvas;
    let calm = |colour: Color32, body: f32| Ink {
        line: mix(mix(colour, palette.ink, 0.55), ground, 0.85),
        solid: mix(colour, ground, body),
        soft: mix(colour, ground, body).gamma_multiply(0.35),
    };
    let plain = |colour: Color32| Ink { line: colour, solid: colour, soft: colour.gamma_multiply(0.22) };
    let steel = |solid: Color32| Ink { line: palette.work_edge, solid, soft: solid };
    match role {
        Role::BedLine => calm(palette.bed, 0.55),
        Role::Casting | Role::Tailstock => calm(palette.headstock, 0.42),
        Role::Chuck => calm(palette.headstock, 0.62),
        Role::Carriage => calm(palette.headstock, 0.30),
        Role::ChuckJaw | Role::Quill => calm(palette.headstock, 0.85),
        Role::Dog => calm(palette.headstock, 1.0),
        Role::Centre => Ink { line: palette.work_edge, ..calm(palette.work_steel, 0.75) },
        Role::Steel => steel(palette.work_steel),
        Role::Fresh => steel(palette.work_cut),
        Role::SteelToCut => steel(mix(palette.work_steel, palette.work_edge, 0.45)),
        Role::BarTail => Ink { line: palette.watch, solid: mix(palette.watch, ground, 0.45), soft: palette.watch },
        Role::Wanted => plain(mix(palette.fine, palette.work_edge, 0.7)),
        Role::Feature => {
            Ink { line: palette.work_edge, solid: palette.work_edge, soft: palette.work_edge.gamma_multiply(0.28) }
        }
        Role::TrueSpot => Ink {
            line: mix(palette.fine, palette.work_edge, 0.6),
            solid: palette.fine,
            soft: palette.fine.gamma_multiply(0.35),
        },
        Role::Bore => plain(mix(palette.work_edge, ground, 0.75)),
        Role::CentreLine => plain(mix(palette.ink_weak, ground, 0.8)),
        Role::Rest | Role::Follower | Role::Sleeve => calm(palette.support, 0.62),
        Role::RestJaw => Ink { line: mix(palette.jaw_touching, palette.ink, 0.55), ..plain(palette.jaw_touching) },
        Role::JawLifted => plain(palette.jaw_lifted),
        Role::Tool => Ink { line: mix(palette.tool, palette.ink, 0.6), ..plain(palette.tool) },
        Role::ToolPost => Ink {
            line: mix(palette.tool, palette.ink_weak, 0.35),
            solid: mix(palette.tool, ground, 0.3),
            soft: mix(palette.tool, palette.headstock, 0.3).gamma_multiply(0.30),
        },
        Role::SpringAway => plain(palette.spring_x),
        Role::SpringUp => plain(palette.spring_y),
        Role::RunOut => plain(palette.run_out),
        Role::Force | Role::Drag => plain(palette.force),
        Role::Ghost => Ink {
            line: palette.pinned[0],
            solid: palette.pinned[0].gamma_multiply(0.4),
            soft: palette.pinned[0].gamma_multiply(0.12),
        },
        Role::Curve | Role::MayLie => plain(palette.error_curve),
        Role::Allowed | Role::CutNow | Role::CutBefore => plain(palette.fine),
        Role::NotCut => plain(palette.trouble),
        Role::Text => plain(palette.ink),
        Role::Dimension | Role::Rule | Role::Grid | Role::Faint => plain(palette.ink_weak),
    }
}

/// Width of a line kind in points; thick to thin is 2 to 1 after ISO 128.
#[must_use]
pub fn width(line: Line) -> f32 {
    match line {
        Line::Thick => 1.8,
        Line::Thin | Line::Dashed | Line::Chain => 0.9,
    }
}

/// Size of words in points.
#[must_use]
pub fn text_points(size: TextSize) -> f32 {
    match size {
        TextSize::Label => 13.5,
        TextSize::Dimension => 12.5,
        TextSize::Small | TextSize::Paper(_) => 12.0,
    }
}
