//! The carriage with cross slide, tool post and tool, and the follower rest bolted to it. The tool stands between the
//! viewer and the work, so the post is drawn as a tint; its edge is at the height of the axis.

use super::proportions::Proportions;
use super::rest::{JawNow, borne};
use super::shapes::group;
use super::{Fill, Item, Line, Part, Path, Role, at};
use crate::job::{Follower, FollowerSide, Lathe, ToolSide};

/// What the carriage carries and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CarriageState {
    /// Where the tool's point is.
    pub tool_z_mm: f64,
    pub side: ToolSide,
    /// The feed is towards the headstock.
    pub feeds_to_headstock: bool,
    /// The tool cuts; otherwise it is drawn back and only outlined.
    pub cutting: bool,
}

/// The carriage's saddle, apron and cross slide: behind tool and rests.
#[must_use]
pub fn carriage(sizes: &Proportions, lathe: &Lathe, state: &CarriageState) -> Item {
    let h = sizes.centre_height_mm;
    let z = state.tool_z_mm;
    let left = z - lathe.carriage_left_mm.value.max(0.2 * h);
    let right = z + lathe.carriage_right_mm.value.max(0.2 * h);
    let bridge = 0.34 * (right - left).min(1.6 * h);
    let (saddle, slide) = (sizes.saddle_top_mm, sizes.slide_top_mm);
    let apron = (0.40 * (right - left)).max(0.35 * h);
    let items: Vec<Item> = vec![
        // Apron before the bed.
        Path::rounded(at(z - apron, sizes.bed_bottom_mm + 0.04 * h), at(z + apron, -h), 0.06 * h, Role::Carriage)
            .filled(Fill::Solid)
            .into(),
        // Wings.
        Path::outline(
            [
                at(left, -h),
                at(left, -h + 0.45 * (saddle + h)),
                at(z - bridge, saddle),
                at(z + bridge, saddle),
                at(right, -h + 0.45 * (saddle + h)),
                at(right, -h),
            ],
            Role::Carriage,
        )
        .lined(Line::Thick)
        .filled(Fill::Solid)
        .into(),
        Path::rect(at(z - 0.8 * bridge, saddle), at(z + 0.8 * bridge, slide), Role::Carriage)
            .lined(Line::Thick)
            .filled(Fill::Solid)
            .into(),
    ];
    group(Part::Carriage, items)
}

/// Tool post and tool. A front tool lies before the work, a rear tool behind it.
#[must_use]
pub fn tool(sizes: &Proportions, state: &CarriageState) -> Item {
    let h = sizes.centre_height_mm;
    let z = state.tool_z_mm;
    // The body of the tool lies behind the point, against the feed.
    let back = if state.feeds_to_headstock { 1.0 } else { -1.0 };
    let shank = (0.11 * h).clamp(4.0, 40.0);
    let post = 0.36 * h;
    let near = z + back * 0.5 * shank;
    let mut items: Vec<Item> = Vec::new();
    let post_fill = if state.cutting { Fill::Soft } else { Fill::None };
    let (slide, bottom) = (sizes.slide_top_mm, -2.1 * shank);
    items.push(
        Path::rect(
            at(near - back * 0.1 * h, slide),
            at(near + back * (post + 0.06 * h), slide + 0.3 * (bottom - slide).max(0.0)),
            Role::ToolPost,
        )
        .lined(Line::Thin)
        .filled(post_fill)
        .into(),
    );
    items.push(
        Path::rounded(
            at(near, slide + 0.3 * (bottom - slide).max(0.0)),
            at(near + back * post, 0.9 * shank),
            0.03 * h,
            Role::ToolPost,
        )
        .lined(Line::Thin)
        .filled(post_fill)
        .into(),
    );
    let screw = 0.035 * h;
    for share in [0.25, 0.7] {
        let middle = near + back * share * post;
        items.push(
            Path::rect(at(middle - screw, 0.9 * shank), at(middle + screw, 0.9 * shank + 2.4 * screw), Role::ToolPost)
                .lined(Line::Thin)
                .filled(post_fill)
                .into(),
        );
    }
    let edge = Path::outline(
        [
            at(z, 0.0),
            at(z + back * 1.25 * shank, 0.0),
            at(z + back * 1.25 * shank, -shank),
            at(z + back * 0.34 * shank, -shank),
        ],
        Role::Tool,
    );
    items.push(if state.cutting && state.side == ToolSide::Front {
        edge.lined(Line::Thick).filled(Fill::Solid).into()
    } else {
        edge.lined(if state.cutting { Line::Dashed } else { Line::Thin }).filled(Fill::None).into()
    });
    group(Part::Tool, items)
}

/// Where the middle of the follower's jaws is along the bed.
#[must_use]
pub fn follower_z_mm(follower: &Follower, tool_z_mm: f64, feeds_to_headstock: bool) -> f64 {
    let behind = if feeds_to_headstock { 1.0 } else { -1.0 };
    match follower.side {
        FollowerSide::Behind => tool_z_mm + behind * follower.distance_mm,
        FollowerSide::Ahead => tool_z_mm - behind * follower.distance_mm,
    }
}

/// The follower: bracket and rear jaw behind the work, then the top jaw before it.
#[must_use]
pub fn follower(
    sizes: &Proportions,
    lathe: &Lathe,
    z_mm: f64,
    tool_z_mm: f64,
    radius_mm: f64,
    jaws: [JawNow; 2],
) -> (Item, Item) {
    let h = sizes.centre_height_mm;
    let jaw = (0.8 * lathe.rest_jaw_width_mm.value / 2.0).clamp(0.01 * h, 0.2 * h);
    let frame = (1.5 * jaw).clamp(0.05 * h, 0.15 * h);
    let top = (radius_mm + 0.30 * h).min(0.8 * h).max(radius_mm + 0.1 * h);
    let foot_end = z_mm + 0.35 * (tool_z_mm - z_mm);
    let foot = (z_mm.min(foot_end) - frame, z_mm.max(foot_end) + frame);
    let mut behind: Vec<Item> = vec![
        Path::rect(
            at(foot.0, sizes.slide_top_mm - 0.02 * h),
            at(foot.1, sizes.slide_top_mm + 0.08 * h),
            Role::Follower,
        )
        .filled(Fill::Solid)
        .into(),
        Path::rounded(at(z_mm - frame, sizes.slide_top_mm), at(z_mm + frame, top), 0.4 * frame, Role::Follower)
            .lined(Line::Thick)
            .filled(Fill::Soft)
            .into(),
    ];
    let width = (z_mm - jaw, z_mm + jaw);
    // The rear jaw is seen end on, behind the work.
    let rear = Path::rect(at(width.0, -jaw), at(width.1, jaw), Role::RestJaw);
    behind.extend(borne(rear, width, (-jaw, jaw), jaws[0]));
    let end = jaw.min(0.8 * radius_mm);
    let mut before: Vec<Item> =
        vec![Path::rect(at(width.0, -end), at(width.1, end), Role::Follower).lined(Line::Dashed).into()];
    let root = top - 0.05 * h;
    let over = Path::rect(at(width.0, radius_mm), at(width.1, root), Role::RestJaw);
    before.extend(borne(over, width, (radius_mm, root), jaws[1]));
    before.push(
        Path::rounded(at(z_mm - frame, top - 0.10 * h), at(z_mm + frame, top), 0.4 * frame, Role::Follower)
            .lined(Line::Thick)
            .filled(Fill::Solid)
            .into(),
    );
    (group(Part::Follower, behind), group(Part::Follower, before))
}
