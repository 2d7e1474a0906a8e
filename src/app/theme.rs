//! Colours and type sizes: one light and one dark scheme, calm, with the colours of things chosen so that no pair
//! differs in red against green alone (blue, orange, violet and lightness carry the meaning).
//!
//! Contrast of text against its ground is at least 4.5 to 1 (the usual figure for body text, WCAG 2.1, 1.4.3).

use std::sync::Arc;

use egui::{
    Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Stroke, TextStyle, Theme, ThemePreference,
    Visuals, vec2,
};

use crate::picture::lettering;

/// The family of headings.
pub const HEADING: &str = "heading";

/// Windows this high have room for a larger bench, in points.
pub const ROOMY_HEIGHT: f32 = 860.0;
/// Height of buttons and fields, for fingers that have oil on them.
pub const TARGET: f32 = 32.0;

/// How long what opens or is switched takes to do so, where movement is wanted (egui's own is the same).
pub const ANIMATION_S: f32 = 0.2;

/// What each thing is drawn in. One for light, one for dark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Palette {
    /// True for the dark scheme.
    pub dark: bool,
    /// Ground of bench, curves and end view.
    pub canvas: Color32,
    /// Lines and text at full strength on the canvas.
    pub ink: Color32,
    /// Secondary lines and text on the canvas.
    pub ink_weak: Color32,
    /// Grid lines, rulers, centre lines.
    pub grid: Color32,
    /// Uncut work.
    pub work_steel: Color32,
    /// Work that has been cut in this pass or before.
    pub work_cut: Color32,
    /// Outline of the work.
    pub work_edge: Color32,
    /// Rests and follower: frames and bases.
    pub support: Color32,
    /// A jaw that touches the work.
    pub jaw_touching: Color32,
    /// A jaw that has let go; always drawn hollow or dashed as well.
    pub jaw_lifted: Color32,
    pub tool: Color32,
    /// Headstock, chuck, tailstock.
    pub headstock: Color32,
    pub bed: Color32,
    /// Arrangements kept for comparison, by letter; also told apart by their kind of line.
    pub pinned: [Color32; 4],
    /// Diameter error along the length.
    pub error_curve: Color32,
    /// Spring toward the operator or away.
    pub spring_x: Color32,
    /// Spring up or down.
    pub spring_y: Color32,
    /// Ground of a land's tolerance.
    pub tolerance_band: Color32,
    /// What turns with the work: run-out, bow.
    pub run_out: Color32,
    /// Forces on the work.
    pub force: Color32,
    /// Ring and tint of what is selected.
    pub selected: Color32,
    /// The one cursor through bench and curves.
    pub cursor: Color32,
    pub trouble: Color32,
    pub watch: Color32,
    pub fine: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

const LIGHT: Palette = Palette {
    dark: false,
    canvas: rgb(0xFB_FA_F7),
    ink: rgb(0x22_28_2E),
    ink_weak: rgb(0x5D_66_70),
    grid: rgb(0xDD_DC_D6),
    work_steel: rgb(0x9E_AA_B6),
    work_cut: rgb(0xDD_E5_EC),
    work_edge: rgb(0x3A_46_52),
    support: rgb(0x7A_6A_55),
    jaw_touching: rgb(0xC2_5A_00),
    jaw_lifted: rgb(0x8F_95_9B),
    tool: rgb(0x6B_3F_A0),
    headstock: rgb(0x8E_99_94),
    bed: rgb(0xC9_C8_C0),
    pinned: [rgb(0x7A_6D_B0), rgb(0x3F_80_6E), rgb(0x9A_62_2E), rgb(0x5F_6B_78)],
    error_curve: rgb(0x0B_5C_AD),
    spring_x: rgb(0xC2_5A_00),
    spring_y: rgb(0x00_7A_87),
    tolerance_band: rgb(0xD5_E6_F5),
    run_out: rgb(0x6E_0F_3C),
    force: rgb(0x9A_3B_00),
    selected: rgb(0x0B_6B_CB),
    cursor: rgb(0x60_60_60),
    trouble: rgb(0xA8_12_3A),
    watch: rgb(0x8A_5A_00),
    fine: rgb(0x1F_64_9C),
};

const DARK: Palette = Palette {
    dark: true,
    canvas: rgb(0x1B_1F_24),
    ink: rgb(0xE6_E9_EC),
    ink_weak: rgb(0xA3_AD_B8),
    grid: rgb(0x34_3B_43),
    work_steel: rgb(0x6C_7A_88),
    work_cut: rgb(0xB4_C3_D1),
    work_edge: rgb(0xDC_E4_EC),
    support: rgb(0xB3_9C_7B),
    jaw_touching: rgb(0xFF_9A_3D),
    jaw_lifted: rgb(0x83_8B_94),
    tool: rgb(0xC3_A1_F2),
    headstock: rgb(0x6F_77_74),
    bed: rgb(0x45_4B_50),
    pinned: [rgb(0xA8_9C_DD), rgb(0x6F_BF_A8), rgb(0xD3_A0_6C), rgb(0x9D_AA_B8)],
    error_curve: rgb(0x6C_B4_F5),
    spring_x: rgb(0xFF_9A_3D),
    spring_y: rgb(0x4C_C9_D4),
    tolerance_band: rgb(0x24_3B_52),
    run_out: rgb(0xF0_5A_98),
    force: rgb(0xFF_B2_70),
    selected: rgb(0x4D_A6_FF),
    cursor: rgb(0xB8_B8_B8),
    trouble: rgb(0xFF_8A_8F),
    watch: rgb(0xF2_B8_4B),
    fine: rgb(0x7F_BF_F5),
};

impl Palette {
    /// The colours of the light or the dark scheme.
    #[must_use]
    pub const fn of(dark: bool) -> Self {
        if dark { DARK } else { LIGHT }
    }

    /// The ground of a band round a curve of this colour: thin enough that what lies under it is seen.
    #[must_use]
    pub fn band_of(&self, curve: Color32) -> Color32 {
        curve.gamma_multiply(if self.dark { 0.34 } else { 0.26 })
    }

    /// The colours that go with the style `ui` is drawn in.
    #[must_use]
    pub fn for_ui(ui: &egui::Ui) -> Self {
        Self::of(ui.visuals().dark_mode)
    }
}

/// Puts both schemes and the type sizes into the context; the preference chooses between them.
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts());
    ctx.style_mut_of(Theme::Light, |style| style.visuals = visuals(&LIGHT));
    ctx.style_mut_of(Theme::Dark, |style| style.visuals = visuals(&DARK));
    ctx.all_styles_mut(|style| {
        style.text_styles = [
            (TextStyle::Small, FontId::new(13.0, FontFamily::Proportional)),
            (TextStyle::Body, FontId::new(15.0, FontFamily::Proportional)),
            (TextStyle::Button, FontId::new(15.0, FontFamily::Proportional)),
            (TextStyle::Heading, FontId::new(18.0, FontFamily::Name(HEADING.into()))),
            (TextStyle::Monospace, FontId::new(14.0, FontFamily::Monospace)),
        ]
        .into();
        style.spacing.item_spacing = vec2(8.0, 4.0);
        style.spacing.button_padding = vec2(9.0, 4.0);
        style.spacing.interact_size = vec2(40.0, TARGET);
        style.spacing.scroll.floating = false;
        style.spacing.scroll.foreground_color = false;
        style.spacing.scroll.bar_width = 9.0;
    });
}

/// Inter for everything but columns of figures, egui's own fonts behind it for what Inter lacks.
fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    for (name, bytes) in [("Inter", lettering::REGULAR), ("Inter SemiBold", lettering::SEMI_BOLD)] {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    let behind = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    for (family, name) in [(FontFamily::Proportional, "Inter"), (FontFamily::Name(HEADING.into()), "Inter SemiBold")] {
        let order = std::iter::once(name.to_owned()).chain(behind.clone()).collect();
        fonts.families.insert(family, order);
    }
    fonts
}

/// The frame of a question in the middle of the window.
pub fn question_frame(ctx: &egui::Context) -> egui::Frame {
    egui::Frame::popup(&ctx.global_style()).inner_margin(16)
}

/// Chooses light, dark or the desktop's.
pub fn choose(ctx: &egui::Context, preference: ThemePreference) {
    ctx.set_theme(preference);
}

fn visuals(palette: &Palette) -> Visuals {
    let mut visuals = if palette.dark { Visuals::dark() } else { Visuals::light() };
    let (panel, raised, field, line) = if palette.dark {
        (rgb(0x25_2A_30), rgb(0x33_3A_42), rgb(0x17_1B_1F), rgb(0x4A_53_5D))
    } else {
        (rgb(0xF1_EF_EA), rgb(0xE2_E0_D9), rgb(0xFF_FF_FF), rgb(0xB9_B8_B0))
    };
    visuals.panel_fill = panel;
    visuals.window_fill = panel;
    visuals.extreme_bg_color = field;
    visuals.faint_bg_color = if palette.dark { rgb(0x2B_31_38) } else { rgb(0xE9_E7_E1) };
    visuals.window_stroke = Stroke::new(1.0, line);
    visuals.selection.bg_fill = if palette.dark { rgb(0x1E_4E_7E) } else { rgb(0xBC_DA_F7) };
    // Also the colour of text on what is selected, and of the ring round the field being typed in.
    visuals.selection.stroke = Stroke::new(1.5, palette.ink);
    visuals.hyperlink_color = palette.error_curve;
    visuals.warn_fg_color = palette.watch;
    visuals.error_fg_color = palette.trouble;
    visuals.weak_text_color = Some(palette.ink_weak);

    let radius = CornerRadius::same(4);
    let widgets = &mut visuals.widgets;
    widgets.noninteractive.fg_stroke = Stroke::new(1.0, palette.ink);
    widgets.noninteractive.bg_stroke = Stroke::new(1.0, line);
    for (state, fill, edge) in [
        (&mut widgets.inactive, raised, line),
        (&mut widgets.hovered, visuals.faint_bg_color, palette.ink_weak),
        (&mut widgets.active, visuals.selection.bg_fill, palette.selected),
        (&mut widgets.open, raised, palette.ink_weak),
    ] {
        state.weak_bg_fill = fill;
        state.bg_fill = fill;
        state.bg_stroke = Stroke::new(1.0, edge);
        state.fg_stroke = Stroke::new(1.2, palette.ink);
        state.corner_radius = radius;
        state.expansion = 0.0;
    }
    visuals
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast ratio. Source: WCAG 2.1, definitions of "relative luminance" and "contrast
    /// ratio" (from memory).
    fn contrast(a: Color32, b: Color32) -> f64 {
        let luminance = |colour: Color32| {
            let linear = |channel: u8| {
                let share = f64::from(channel) / 255.0;
                if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
            };
            0.2126 * linear(colour.r()) + 0.7152 * linear(colour.g()) + 0.0722 * linear(colour.b())
        };
        let (lighter, darker) = (luminance(a).max(luminance(b)), luminance(a).min(luminance(b)));
        (lighter + 0.05) / (darker + 0.05)
    }

    #[test]
    fn text_and_verdicts_stand_out_from_canvas_and_panel_in_both_schemes() {
        for palette in [LIGHT, DARK] {
            let panel = visuals(&palette).panel_fill;
            for ground in [palette.canvas, panel] {
                let verdicts = [palette.trouble, palette.watch, palette.fine];
                for colour in [palette.ink, palette.ink_weak, palette.run_out].into_iter().chain(verdicts) {
                    let ratio = contrast(colour, ground);
                    assert!(ratio >= 4.5, "{colour:?} on {ground:?}: {ratio:.2}");
                }
            }
        }
    }

    /// What eyes see that lack one kind of cone, in linear light.
    ///
    /// Source: Machado, Oliveira, Fernandes, IEEE Trans. Vis. Comput. Graph. 15 (2009) 1291, full severity (from memory).
    const SEEN: [[[f64; 3]; 3]; 4] = [
        [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
        [[0.152_286, 1.052_583, -0.204_868], [0.114_503, 0.786_281, 0.099_216], [-0.003_882, -0.048_116, 1.051_998]],
        [[0.367_322, 0.860_646, -0.227_968], [0.280_085, 0.672_501, 0.047_413], [-0.011_820, 0.042_940, 0.968_881]],
        [[1.255_528, -0.076_749, -0.178_779], [-0.078_411, 0.930_809, 0.147_602], [0.004_733, 0.691_367, 0.303_900]],
    ];

    /// A colour in CIE L*a*b* as such eyes see it. Source: CIE 15, sRGB primaries and white of IEC 61966-2-1 (from memory).
    fn lab(colour: Color32, eyes: &[[f64; 3]; 3]) -> [f64; 3] {
        let linear = [colour.r(), colour.g(), colour.b()].map(|channel| {
            let share = f64::from(channel) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        });
        let times = |rows: &[[f64; 3]; 3], v: [f64; 3]| rows.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2]);
        let seen = times(eyes, linear).map(|share| share.clamp(0.0, 1.0));
        let xyz = times(&[[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]], seen);
        let curve = |t: f64| if t > 0.008_856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 };
        let [x, y, z] = [curve(xyz[0] / 0.9505), curve(xyz[1]), curve(xyz[2] / 1.089)];
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    /// How far two colours are apart for eyes that see least of it. Source: CIE 1976 colour difference (from memory).
    fn apart(a: Color32, b: Color32) -> f64 {
        let seen = |eyes: &[[f64; 3]; 3]| {
            let (a, b) = (lab(a, eyes), lab(b, eyes));
            a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum::<f64>().sqrt()
        };
        SEEN.iter().map(seen).fold(f64::INFINITY, f64::min)
    }

    /// A difference of 2.3 is just seen (common figure, from memory); lines and neighbouring areas want several times
    /// that.
    #[test]
    fn what_means_different_things_looks_different_for_any_eyes() {
        for p in [LIGHT, DARK] {
            for (one, other, of) in [
                (p.run_out, p.spring_x, "run-out and spring away"),
                (p.run_out, p.spring_y, "run-out and spring up"),
                (p.run_out, p.error_curve, "run-out and size error"),
                (p.spring_x, p.spring_y, "spring away and spring up"),
                (p.spring_x, p.error_curve, "spring away and size error"),
                (p.jaw_touching, p.jaw_lifted, "a jaw that touches and one that does not"),
                (p.jaw_touching, p.support, "a jaw and its rest"),
                (p.jaw_touching, p.work_steel, "a jaw and the work"),
                (p.work_steel, p.work_cut, "uncut and cut work"),
                (p.work_steel, p.canvas, "work and air"),
                (p.support, p.headstock, "a rest and the lathe"),
                (p.support, p.work_steel, "a rest and the work"),
                (p.tool, p.work_steel, "tool and work"),
                (p.selected, p.support, "a selected rest and another"),
                (p.selected, p.ink, "a selected outline and another"),
                (p.trouble, p.watch, "trouble and watch"),
                (p.watch, p.fine, "watch and fine"),
                (p.trouble, p.fine, "trouble and fine"),
            ] {
                let least = apart(one, other);
                assert!(least >= 20.0, "{of}, dark {}: {least:.1}", p.dark);
            }
        }
    }

    #[test]
    fn the_ring_of_what_has_the_keyboard_stands_out_from_every_ground() {
        for palette in [LIGHT, DARK] {
            let visuals = visuals(&palette);
            for ground in [palette.canvas, visuals.panel_fill, visuals.extreme_bg_color] {
                let ratio = contrast(palette.selected, ground);
                assert!(ratio >= 3.0, "{ground:?}: {ratio:.2}");
            }
        }
    }

    #[test]
    fn curves_stand_out_from_the_canvas() {
        for palette in [LIGHT, DARK] {
            for colour in [palette.error_curve, palette.spring_x, palette.spring_y, palette.run_out, palette.tool] {
                assert!(contrast(colour, palette.canvas) >= 3.0, "{colour:?}");
            }
        }
    }
}
