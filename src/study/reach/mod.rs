//! Where a steady rest or the follower may stand: bands of z, and every forbidden stretch with its reason.
//!
//! Plain geometry of what a tape measures, and the outside of the work as the dial left it. Jaws are taken to stand in
//! the middle of the rest's base. All places are of the middle of the jaws, from the jaw face of the chuck.

mod bed;
mod follower;
mod ground;
mod stretch;
mod way;

use std::borrow::Cow;

use crate::job::{FeatureKind, Job, PassId, RestId, SetupId, Sleeve};
use crate::study::{JobResult, Surface, outline::stock_surface};

pub use bed::tailstock_face_mm;
pub use follower::{follower_reach, follower_travel_mm};
pub use ground::{CLEAN_UP_MM, LEAST_ALLOWANCE_MM, STRAIGHT_MM, allowance_mm};
pub(super) use ground::{Ground, Jaws};
pub use stretch::Stretch;
use stretch::{joined, without};
pub use way::{Meets, approach_mm, cat_head_circle_mm, takes_the_carriage, tool_room_mm};

/// Where a rest may stand.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct RestReach {
    /// Where nothing forbids it, rising. In some of it a true spot must be turned first: see `to_turn`.
    pub allowed: Vec<Stretch>,
    /// Parts of `allowed` where the work has no true spot yet, rising; nothing for a rest on a sleeve.
    pub to_turn: Vec<Stretch>,
    /// Where it cannot stand, rising by where each begins; several reasons may hold at one place.
    pub forbidden: Vec<Forbidden>,
}

/// A stretch where a rest cannot stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forbidden {
    pub from_mm: f64,
    pub to_mm: f64,
    pub why: Why,
}

/// Why a rest cannot stand somewhere, with the figures that say so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Why {
    /// Its jaws would be off the work.
    OffWork { work_from_mm: f64, work_to_mm: f64 },
    /// It would be in the chuck.
    Chuck { half_jaw_mm: f64 },
    /// It would be in the dog, which reaches so far along the work.
    Dog { length_mm: f64 },
    /// Its base would be under the tailstock, which stands at `face_mm` with so much of the quill out.
    Tailstock { face_mm: f64, half_base_mm: f64, quill_out_mm: f64, quill_travel_mm: f64 },
    /// Its base would hang over the end of the bed.
    BedEnd { bed_end_mm: f64, half_base_mm: f64 },
    /// The tool runs into its jaws.
    Cut { pass: PassId },
    /// The carriage meets it: with the tool at the end of the pass its jaws must be at least so far from the tool.
    Carriage { pass: PassId, approach_mm: f64 },
    /// It would stand between two passes, and the carriage cannot go past it.
    BetweenPasses { headstock_side: PassId, tailstock_side: PassId },
    /// The work, or the sleeve, is larger than its jaws open.
    JawsTooSmall { diameter_mm: f64, largest_mm: f64 },
    /// The work, or the sleeve, is smaller than its jaws close.
    JawsCannotClose { diameter_mm: f64, smallest_mm: f64 },
    /// The sleeve does not go over the work.
    SleeveTooSmall { sleeve_mm: f64, work_mm: f64 },
    /// The screws of the cat head do not turn freely in the frame.
    SleeveInFrame { circle_mm: f64, bore_mm: f64 },
    /// They do not clear the bed.
    SleeveOnBed { circle_mm: f64, swing_mm: f64 },
    /// They do not clear the cross slide, which goes under them in the pass.
    SleeveOnSlide { pass: PassId, circle_mm: f64, swing_mm: f64 },
    /// A feature of the work would be under its jaws.
    Feature(FeatureKind),
    /// A thread cut in this job would be under its jaws.
    CutThread,
    /// The work changes so much on diameter under the jaws.
    Taper { change_mm: f64 },
    /// A shoulder, so much on diameter, under the jaws or nearer to them than the room left beside them.
    Step { at_mm: f64, change_mm: f64, beside_mm: f64 },
    /// Another rest's base stands there.
    OtherRest(RestId),
}

/// What goes for a stretch of the bed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Standing {
    /// A rest may stand there.
    Free,
    /// It may, once a true spot has been turned.
    SpotFirst,
    /// It cannot: the weightiest reason.
    No(Why),
}

impl Why {
    /// Which reason is told first where several hold: the lower the weightier.
    fn rank(&self) -> u8 {
        match self {
            Self::OffWork { .. } => 0,
            Self::Chuck { .. } | Self::Dog { .. } => 1,
            Self::Tailstock { .. } | Self::BedEnd { .. } => 2,
            Self::OtherRest(_) => 3,
            Self::Cut { .. } => 4,
            Self::SleeveTooSmall { .. }
            | Self::SleeveInFrame { .. }
            | Self::SleeveOnBed { .. }
            | Self::SleeveOnSlide { .. } => 5,
            Self::JawsTooSmall { .. } | Self::JawsCannotClose { .. } => 6,
            Self::Feature(_) | Self::CutThread => 7,
            Self::Step { .. } | Self::Taper { .. } => 8,
            Self::Carriage { .. } => 9,
            Self::BetweenPasses { .. } => 10,
        }
    }

    /// A cat head or bush under the jaws would make the place fit.
    #[must_use]
    pub fn a_sleeve_helps(&self) -> bool {
        matches!(self, Self::Feature(_) | Self::CutThread | Self::Taper { .. } | Self::Step { .. })
    }
}

impl RestReach {
    /// What the forbidden stretches leave of the whole.
    fn of(whole: Stretch, to_turn: Vec<Stretch>, forbidden: Vec<Forbidden>) -> Self {
        let mut reach = Self { allowed: vec![whole], to_turn: joined(to_turn), forbidden: Vec::new() };
        reach.forbid(forbidden.into_iter().filter_map(|one| {
            let part = Stretch::new(one.from_mm, one.to_mm).within(&whole)?;
            Some(Forbidden { from_mm: part.from_mm, to_mm: part.to_mm, ..one })
        }));
        reach
    }

    /// The whole millimetre nearest to a place at which a rest may stand; `fit` may ask for more.
    pub fn nearest_mm(&self, z_mm: f64, fit: impl Fn(f64) -> bool) -> Option<f64> {
        let whole = self.allowed.iter().filter_map(|band| {
            let (first_mm, last_mm) = (band.from_mm.ceil(), band.to_mm.floor());
            (first_mm <= last_mm).then(|| z_mm.round().clamp(first_mm, last_mm))
        });
        whole.filter(|place_mm| fit(*place_mm)).min_by(|a, b| (a - z_mm).abs().total_cmp(&(b - z_mm).abs()))
    }

    /// Every reason against a place.
    pub fn against(&self, z_mm: f64) -> impl Iterator<Item = &Forbidden> {
        self.forbidden.iter().filter(move |one| one.from_mm < z_mm && z_mm < one.to_mm)
    }

    /// Nothing forbids the place.
    #[must_use]
    pub fn allows(&self, z_mm: f64) -> bool {
        self.allowed.iter().any(|stretch| stretch.holds(z_mm))
    }

    /// A place in one of the bands where a true spot must first be turned.
    #[must_use]
    pub fn needs_a_spot(&self, z_mm: f64) -> bool {
        self.to_turn.iter().any(|stretch| stretch.from_mm < z_mm && z_mm < stretch.to_mm)
    }

    /// The weightiest reason against a place.
    #[must_use]
    pub fn first_against(&self, z_mm: f64) -> Option<&Why> {
        // The first of those that weigh the same.
        self.against(z_mm).map(|one| &one.why).reduce(|a, b| if b.rank() < a.rank() { b } else { a })
    }

    /// What goes for a place inside a stretch.
    #[must_use]
    pub fn standing(&self, z_mm: f64) -> Standing {
        match self.first_against(z_mm) {
            Some(why) => Standing::No(*why),
            None if self.needs_a_spot(z_mm) => Standing::SpotFirst,
            None => Standing::Free,
        }
    }

    /// The whole bed in stretches of one standing each, rising, without gaps.
    #[must_use]
    pub fn stretches(&self) -> Vec<(Stretch, Standing)> {
        let forbidden = self.forbidden.iter().flat_map(|one| [one.from_mm, one.to_mm]);
        let bands = self.allowed.iter().chain(&self.to_turn).flat_map(|band| [band.from_mm, band.to_mm]);
        let mut places_mm: Vec<f64> = forbidden.chain(bands).collect();
        places_mm.sort_by(f64::total_cmp);
        let mut all: Vec<(Stretch, Standing)> = Vec::new();
        for pair in places_mm.windows(2) {
            let next = Stretch::new(pair[0], pair[1]);
            if !next.has_length() {
                continue;
            }
            let standing = self.standing(f64::midpoint(pair[0], pair[1]));
            match all.last_mut() {
                Some((last, same)) if *same == standing => last.to_mm = next.to_mm,
                _ => all.push((next, standing)),
            }
        }
        all
    }

    /// Forbids further stretches.
    fn forbid(&mut self, more: impl IntoIterator<Item = Forbidden>) {
        self.forbidden.extend(more);
        self.forbidden.sort_by(|a, b| a.from_mm.total_cmp(&b.from_mm));
        let taken =
            |forbidden: &[Forbidden]| forbidden.iter().map(|one| Stretch::new(one.from_mm, one.to_mm)).collect();
        self.allowed = without(&self.allowed, taken(&self.forbidden));
        self.to_turn = without(&self.to_turn, taken(&self.forbidden));
    }
}

/// Where this steady rest may stand, other rests left aside; `None` where set-up or rest is not there.
#[must_use]
pub fn rest_reach(job: &Job, result: &JobResult, setup: SetupId, rest: RestId) -> Option<RestReach> {
    let found = job.setup(setup)?.rest(rest)?;
    reach_on(job, result, setup, found.sleeve)
}

/// As [`rest_reach`], with the other rests of the set-up in the way as well.
#[must_use]
pub fn rest_reach_beside_others(job: &Job, result: &JobResult, setup: SetupId, rest: RestId) -> Option<RestReach> {
    let mut reach = rest_reach(job, result, setup, rest)?;
    reach.forbid(other_rests(job, setup, Some(rest)));
    Some(reach)
}

/// Where `rest`, or one that is yet to come, may stand bare on the work beside the other rests of the set-up.
#[must_use]
pub fn bare_rest_reach(job: &Job, result: &JobResult, setup: SetupId, rest: Option<RestId>) -> Option<RestReach> {
    let mut reach = reach_on(job, result, setup, Sleeve::None)?;
    reach.forbid(other_rests(job, setup, rest));
    Some(reach)
}

/// Where every rest of a set-up but one leaves no room.
fn other_rests(job: &Job, setup: SetupId, but: Option<RestId>) -> impl Iterator<Item = Forbidden> {
    let apart_mm = least_apart_mm(job);
    let rests = job.setup(setup).map_or(&[][..], |setup| &setup.rests);
    rests.iter().filter(move |other| Some(other.id) != but).map(move |other| Forbidden {
        from_mm: other.z_mm - apart_mm,
        to_mm: other.z_mm + apart_mm,
        why: Why::OtherRest(other.id),
    })
}

/// How near two steady rests can stand to each other, jaws to jaws: base against base.
#[must_use]
pub fn least_apart_mm(job: &Job) -> f64 {
    job.lathe.rest_base_mm.value
}

/// Where a rest may stand whose jaws run on the work or on a sleeve.
#[must_use]
pub fn reach_on(job: &Job, result: &JobResult, setup: SetupId, sleeve: Sleeve) -> Option<RestReach> {
    let setup = job.setup(setup)?;
    let surface = surface_or_stock(job, result.setup(setup.id).map(|computed| &*computed.before));
    let ground = Ground::of(job, result, setup, &surface);
    let whole = bed::whole(job, setup);
    let mut forbidden = bed::forbidden(job, setup, &whole);
    forbidden.extend(way::forbidden(job, setup));
    forbidden.extend(match sleeve {
        Sleeve::None => ground.bare(job, setup, &Jaws::of_a_steady(job)),
        Sleeve::CatHead { diameter_mm, .. } | Sleeve::Bush { diameter_mm, .. } => {
            ground.under_a_sleeve(job, diameter_mm, &whole)
        }
    });
    if let Sleeve::CatHead { diameter_mm, width_mm } = sleeve {
        forbidden.extend(way::cat_head_swing(job, setup, diameter_mm, width_mm, &whole));
    }
    let to_turn = if sleeve == Sleeve::None {
        let half_jaw_mm = job.lathe.rest_jaw_width_mm.value / 2.0;
        without(&[whole], ground.true_mm.iter().map(|spot| spot.grown(-half_jaw_mm)).collect())
    } else {
        Vec::new()
    };
    Some(RestReach::of(whole, to_turn, forbidden))
}

/// The surface that was computed, or the stock where nothing was.
pub(super) fn surface_or_stock<'a>(job: &Job, computed: Option<&'a Surface>) -> Cow<'a, Surface> {
    match computed {
        Some(surface) if !surface.spans.is_empty() => Cow::Borrowed(surface),
        _ => Cow::Owned(stock_surface(&job.shaft)),
    }
}
