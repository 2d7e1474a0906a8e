//! "drag me" beside a rest of the opening example, until something has been dragged for the first time.

use egui::{Align2, FontId, Rect, Role, Sense, Shape, Stroke, WidgetInfo, pos2, vec2};

use super::stage::Stage;
use crate::job::TailKind;
use crate::job::examples::EXAMPLES;
use crate::picture::tailstock::tail_places;

const WORDS: &str = "drag me";
/// Length of the arrow under the words, and room around both, in points.
const ARROW: f32 = 46.0;
const ROOM: f32 = 6.0;

/// Puts the hint where nothing else stands, where it is wanted and there is room.
pub fn first_hint(stage: &mut Stage) {
    let is_opening = EXAMPLES.first().is_some_and(|opening| opening.title == stage.job.title);
    if stage.view.has_dragged || !is_opening {
        return;
    }
    let Some(rest) = stage.setup.rests.first() else { return };
    let h = stage.sizes.centre_height_mm;
    let (map, palette) = (stage.map, stage.palette);
    let galley = stage.ui.painter().layout_no_wrap(WORDS.to_owned(), FontId::proportional(13.5), palette.ink);
    let size = vec2(galley.size().x.max(ARROW), galley.size().y + 11.0) + vec2(2.0 * ROOM, 2.0);
    // Between work and bed, to the one side of the rest or the other.
    let work_foot = map.y(-stage.now.max_radius_mm());
    let middle_y = f32::midpoint(work_foot, map.y(stage.sizes.bed_top_mm));
    let beside = (0.16 * h * map.px_per_mm) as f32 + 4.0;
    let x = map.x(rest.z_mm);
    let tail_z_mm = tail_places(stage.job, stage.setup, &stage.sizes).body_z_mm;
    let mut taken = vec![
        map.rect_of(f64::NEG_INFINITY, 0.0, -1e6, 1e6),
        map.rect_of(stage.view.tool_z_mm - 0.5 * h, stage.view.tool_z_mm + 0.5 * h, -1e6, 1e6),
    ];
    taken.extend(
        stage.setup.rests.iter().map(|rest| map.rect_of(rest.z_mm - 0.16 * h, rest.z_mm + 0.16 * h, -1e6, 1e6)),
    );
    if stage.setup.tail.kind != TailKind::Free {
        taken.push(map.rect_of(tail_z_mm, f64::INFINITY, -1e6, 1e6));
    }
    let rect: Option<Rect> = [Align2::RIGHT_CENTER, Align2::LEFT_CENTER].into_iter().find_map(|align| {
        let side = if align == Align2::RIGHT_CENTER { -beside } else { beside };
        let rect = align.anchor_size(pos2(x + side, middle_y), size);
        let free =
            map.rect.contains_rect(rect) && rect.top() > work_foot && !taken.iter().any(|other| other.intersects(rect));
        free.then_some(rect)
    });
    let Some(rect) = rect else { return };
    let response = stage.ui.interact(rect, stage.id("first hint"), Sense::hover());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, WORDS));
    let words_at = Align2::CENTER_TOP.anchor_size(pos2(rect.center().x, rect.top() + 1.0), galley.size());
    let (y, half) = (words_at.bottom() + 6.0, 0.5 * ARROW);
    let stroke = Stroke::new(1.6, palette.selected);
    let [left, right] = [-half, half].map(|by| pos2(rect.center().x + by, y));
    stage.marks.push(Shape::line_segment([left, right], stroke));
    for (tip, into) in [(left, 5.0), (right, -5.0)] {
        for up in [-4.0, 4.0] {
            stage.marks.push(Shape::line_segment([tip, tip + vec2(into, up)], stroke));
        }
    }
    stage.marks.push(Shape::galley(words_at.min, galley, palette.ink));
    stage.reserved.push(rect);
}
