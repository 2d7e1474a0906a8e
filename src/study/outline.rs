//! The outside of the work in the frame of a set-up: pieces straight between their ends, steps between pieces. With it
//! go the bottoms of threads and the holes made so far, in the same form but with gaps.
//!
//! Each piece knows two diameters: what is there, and what the dial said. A *corner* is where the dial's profile has a
//! step or a change of slope; only corners must become nodes, everything else is a sample of a smooth shape.

use super::results::{Span, Surface};
use crate::job::{CentreHole, FeatureKind, Setup, Shaft};

/// Places nearer than this are one place.
pub const SAME_PLACE_MM: f64 = 1e-7;

/// A stretch of the outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    pub from_z_mm: f64,
    pub to_z_mm: f64,
    /// Diameter that is there, at both ends.
    pub diameter_mm: [f64; 2],
    /// Diameter the dial said, at both ends.
    pub dial_mm: [f64; 2],
    /// Centre of the surface off the middle of the section at both ends: away, up.
    pub off_mm: [[f64; 2]; 2],
}

/// Which side of a place is meant; they differ at a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Headstock,
    Tailstock,
}

/// The work along z.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Outline {
    /// The outside: rising, without gaps.
    pub pieces: Vec<Piece>,
    /// Bottoms of threads: rising, with gaps.
    pub roots: Vec<Piece>,
    /// Holes made in this job: rising, with gaps.
    pub bored: Vec<Piece>,
}

/// What is found at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    pub diameter_mm: f64,
    pub dial_mm: f64,
    pub off_mm: [f64; 2],
}

/// The stock of a shaft as a surface.
#[must_use]
pub fn stock_surface(shaft: &Shaft) -> Surface {
    let mut surface = Surface {
        spans: shaft
            .stock_spans()
            .map(|(from_s_mm, to_s_mm, land)| Span {
                from_s_mm,
                to_s_mm,
                start_diameter_mm: land.start_diameter_mm,
                end_diameter_mm: land.end_diameter_mm,
                start_dial_mm: land.start_diameter_mm,
                end_dial_mm: land.end_diameter_mm,
                start_off_mm: [0.0; 2],
                end_off_mm: [0.0; 2],
            })
            .collect(),
        ..Surface::default()
    };
    run_true_on_spots(&mut surface, shaft);
    surface
}

/// True bearing spots of a shaft that is not straight, or whose centre holes are off, run true about its centres: there
/// the surface's centre lies on the line through them, not in the middle of the section.
fn run_true_on_spots(surface: &mut Surface, shaft: &Shaft) {
    let along = |tir_mm: f64, angle_rad: f64| [tir_mm / 2.0 * angle_rad.cos(), tir_mm / 2.0 * angle_rad.sin()];
    let bow_mm = along(shaft.bow_tir_mm, shaft.bow_at_rad);
    let hole_mm = |hole: Option<CentreHole>| hole.map_or([0.0; 2], |hole| along(hole.off_tir_mm, hole.off_at_rad));
    let (hole_a_mm, hole_b_mm) = (hole_mm(shaft.centre_hole_a), hole_mm(shaft.centre_hole_b));
    if [bow_mm, hole_a_mm, hole_b_mm] == [[0.0; 2]; 3] {
        return;
    }
    let off_mm = |s_mm: f64| {
        let share = s_mm / shaft.length_mm();
        [0, 1].map(|plane| {
            hole_a_mm[plane] + (hole_b_mm[plane] - hole_a_mm[plane]) * share
                - bow_mm[plane] * 4.0 * share * (1.0 - share)
        })
    };
    for spot in shaft.features.iter().filter(|feature| feature.kind == FeatureKind::TrueSpot) {
        let mut spans = Vec::with_capacity(surface.spans.len() + 2);
        for span in &surface.spans {
            let cuts = [spot.from_s_mm, spot.to_s_mm].map(|s_mm| s_mm.clamp(span.from_s_mm, span.to_s_mm));
            let diameter_mm = |s_mm: f64| {
                let share = (s_mm - span.from_s_mm) / (span.to_s_mm - span.from_s_mm);
                span.start_diameter_mm + (span.end_diameter_mm - span.start_diameter_mm) * share
            };
            // The middle of the spot, where a rest stands, is a place of its own: the bend of the bar is not straight.
            let places = [span.from_s_mm, cuts[0], 0.5 * (cuts[0] + cuts[1]), cuts[1], span.to_s_mm];
            for (part, ends) in places.windows(2).enumerate().filter(|(_, ends)| ends[1] - ends[0] > SAME_PLACE_MM) {
                let (start_diameter_mm, end_diameter_mm) = (diameter_mm(ends[0]), diameter_mm(ends[1]));
                let [start_off_mm, end_off_mm] = if (1..=2).contains(&part) {
                    [off_mm(ends[0]), off_mm(ends[1])]
                } else {
                    [span.start_off_mm, span.end_off_mm]
                };
                spans.push(Span {
                    from_s_mm: ends[0],
                    to_s_mm: ends[1],
                    start_diameter_mm,
                    end_diameter_mm,
                    start_dial_mm: start_diameter_mm,
                    end_dial_mm: end_diameter_mm,
                    start_off_mm,
                    end_off_mm,
                });
            }
        }
        surface.spans = spans;
    }
}

/// The wanted profile of a shaft as a surface.
#[must_use]
pub fn wanted_surface(shaft: &Shaft) -> Surface {
    Surface {
        spans: shaft
            .wanted_spans()
            .map(|(from_s_mm, to_s_mm, wanted)| Span {
                from_s_mm,
                to_s_mm,
                start_diameter_mm: wanted.land.start_diameter_mm,
                end_diameter_mm: wanted.land.end_diameter_mm,
                start_dial_mm: wanted.land.start_diameter_mm,
                end_dial_mm: wanted.land.end_diameter_mm,
                start_off_mm: [0.0; 2],
                end_off_mm: [0.0; 2],
            })
            .collect(),
        ..Surface::default()
    }
}

/// One end of a stretch of surface, in either frame.
#[derive(Clone, Copy)]
struct End {
    place_mm: f64,
    diameter_mm: f64,
    dial_mm: f64,
    off_mm: [f64; 2],
}

/// A direction on the shaft as it lies in a set-up, and back: turned end for end, right and left change places.
#[must_use]
pub fn seen_from_other_end(vector: [f64; 2], setup: &Setup) -> [f64; 2] {
    if setup.end_for_end { [-vector[0], vector[1]] } else { vector }
}

impl Outline {
    /// The outline of a surface as it lies in a set-up.
    #[must_use]
    pub fn of(surface: &Surface, shaft: &Shaft, setup: &Setup) -> Self {
        let piece = |span: &Span| {
            let end = |s_mm, diameter_mm, dial_mm, off_mm| End {
                place_mm: setup.z_of_s_mm(shaft, s_mm),
                diameter_mm,
                dial_mm,
                off_mm: seen_from_other_end(off_mm, setup),
            };
            let ends = [
                end(span.from_s_mm, span.start_diameter_mm, span.start_dial_mm, span.start_off_mm),
                end(span.to_s_mm, span.end_diameter_mm, span.end_dial_mm, span.end_off_mm),
            ];
            let [low, high] = if setup.end_for_end { [ends[1], ends[0]] } else { ends };
            Piece {
                from_z_mm: low.place_mm,
                to_z_mm: high.place_mm,
                diameter_mm: [low.diameter_mm, high.diameter_mm],
                dial_mm: [low.dial_mm, high.dial_mm],
                off_mm: [low.off_mm, high.off_mm],
            }
        };
        let pieces = |spans: &[Span]| {
            let mut pieces: Vec<_> = spans.iter().map(piece).collect();
            if setup.end_for_end {
                pieces.reverse();
            }
            pieces
        };
        Self { pieces: pieces(&surface.spans), roots: pieces(&surface.roots), bored: pieces(&surface.bored) }
    }

    /// The surface this outline is, seen from the shaft again.
    #[must_use]
    pub fn to_surface(&self, shaft: &Shaft, setup: &Setup) -> Surface {
        let span = |piece: &Piece| {
            let end = |z_mm, side: usize| End {
                place_mm: setup.s_of_z_mm(shaft, z_mm),
                diameter_mm: piece.diameter_mm[side],
                dial_mm: piece.dial_mm[side],
                off_mm: seen_from_other_end(piece.off_mm[side], setup),
            };
            let ends = [end(piece.from_z_mm, 0), end(piece.to_z_mm, 1)];
            let [low, high] = if setup.end_for_end { [ends[1], ends[0]] } else { ends };
            Span {
                from_s_mm: low.place_mm,
                to_s_mm: high.place_mm,
                start_diameter_mm: low.diameter_mm,
                end_diameter_mm: high.diameter_mm,
                start_dial_mm: low.dial_mm,
                end_dial_mm: high.dial_mm,
                start_off_mm: low.off_mm,
                end_off_mm: high.off_mm,
            }
        };
        let spans = |pieces: &[Piece]| {
            let mut spans: Vec<_> = pieces.iter().map(span).collect();
            if setup.end_for_end {
                spans.reverse();
            }
            spans
        };
        Surface { spans: spans(&self.pieces), roots: spans(&self.roots), bored: spans(&self.bored) }
    }

    /// What is at a place, on the side asked for; beyond the ends there is nothing.
    #[must_use]
    pub fn at(&self, z_mm: f64, side: Side) -> Option<Found> {
        self.reader().at(z_mm, side)
    }

    /// A reader for many places one after another: quick where each is near the last.
    #[must_use]
    pub fn reader(&self) -> Reader<'_> {
        Reader { pieces: &self.pieces, piece: 0 }
    }

    /// The bottom of a thread at a place, if there is a thread.
    #[must_use]
    pub fn root_at(&self, z_mm: f64, side: Side) -> Option<Found> {
        found_in(&self.roots, z_mm, side)
    }

    /// The hole made in this job at a place, if there is one.
    #[must_use]
    pub fn bored_at(&self, z_mm: f64, side: Side) -> Option<Found> {
        found_in(&self.bored, z_mm, side)
    }

    /// Places where the dial's profile has a step or a change of slope, its ends and those of threads and holes included.
    pub fn corners_mm(&self) -> impl Iterator<Item = f64> + '_ {
        let slope = |piece: &Piece| {
            (piece.dial_mm[1] - piece.dial_mm[0]) / (piece.to_z_mm - piece.from_z_mm).max(SAME_PLACE_MM)
        };
        let first = self.pieces.first().map(|piece| piece.from_z_mm);
        let last = self.pieces.last().map(|piece| piece.to_z_mm);
        let inner = self.pieces.windows(2).filter_map(move |pair| {
            let step = (pair[1].dial_mm[0] - pair[0].dial_mm[1]).abs() > 1e-9;
            let bend = (slope(&pair[1]) - slope(&pair[0])).abs() > 1e-7;
            (step || bend).then_some(pair[1].from_z_mm)
        });
        let inside = breaks(&self.roots).chain(breaks(&self.bored));
        first.into_iter().chain(inner).chain(last).chain(inside)
    }

    /// Puts `fresh` (rising, without gaps) in place of the outside that was there.
    #[must_use]
    pub fn with_fresh(&self, fresh: &[Piece]) -> Self {
        Self { pieces: replaced(&self.pieces, fresh), roots: self.roots.clone(), bored: self.bored.clone() }
    }

    /// Puts `fresh` (rising, without gaps) in place of the threads that were there.
    #[must_use]
    pub fn with_roots(&self, fresh: &[Piece]) -> Self {
        Self { pieces: self.pieces.clone(), roots: replaced(&self.roots, fresh), bored: self.bored.clone() }
    }

    /// Puts `fresh` (rising, without gaps) in place of the holes that were there.
    #[must_use]
    pub fn with_bored(&self, fresh: &[Piece]) -> Self {
        Self { pieces: self.pieces.clone(), roots: self.roots.clone(), bored: replaced(&self.bored, fresh) }
    }

    /// Puts a straight hole where there is none, or a smaller one.
    #[must_use]
    pub fn with_hole(&self, from_z_mm: f64, to_z_mm: f64, diameter_mm: f64) -> Self {
        let hole = Piece {
            from_z_mm,
            to_z_mm,
            diameter_mm: [diameter_mm; 2],
            dial_mm: [diameter_mm; 2],
            off_mm: [[0.0; 2]; 2],
        };
        let wider = self.bored.iter().filter(|piece| piece.diameter_mm[0].max(piece.diameter_mm[1]) > diameter_mm);
        let holed = self.with_bored(&[hole]);
        wider.fold(holed, |holed, piece| holed.with_bored(&[*piece]))
    }
}

/// `pieces` with `fresh` in place of what was there.
fn replaced(pieces: &[Piece], fresh: &[Piece]) -> Vec<Piece> {
    let (Some(first), Some(last)) = (fresh.first(), fresh.last()) else { return pieces.to_vec() };
    let (low_mm, high_mm) = (first.from_z_mm, last.to_z_mm);
    let mut all = Vec::with_capacity(pieces.len() + fresh.len() + 2);
    for piece in pieces {
        if piece.from_z_mm < low_mm - SAME_PLACE_MM {
            all.push(piece.between(piece.from_z_mm, piece.to_z_mm.min(low_mm)));
        }
    }
    all.extend_from_slice(fresh);
    for piece in pieces {
        if piece.to_z_mm > high_mm + SAME_PLACE_MM {
            all.push(piece.between(piece.from_z_mm.max(high_mm), piece.to_z_mm));
        }
    }
    all
}

/// Where a list with gaps begins and ends, and where its dial steps.
fn breaks(pieces: &[Piece]) -> impl Iterator<Item = f64> + '_ {
    let ends = [pieces.first().map(|piece| piece.from_z_mm), pieces.last().map(|piece| piece.to_z_mm)];
    let inner = pieces.windows(2).flat_map(|pair| {
        let apart = pair[1].from_z_mm - pair[0].to_z_mm > SAME_PLACE_MM;
        let step = (pair[1].dial_mm[0] - pair[0].dial_mm[1]).abs() > 1e-9;
        [(apart || step).then_some(pair[0].to_z_mm), apart.then_some(pair[1].from_z_mm)]
    });
    ends.into_iter().chain(inner).flatten()
}

fn found_in(pieces: &[Piece], z_mm: f64, side: Side) -> Option<Found> {
    // The first that ends behind the place; at a joint the one before it may be meant.
    let after = pieces.partition_point(|piece| piece.to_z_mm < z_mm - SAME_PLACE_MM);
    Reader { pieces: pieces.get(after..(after + 2).min(pieces.len()))?, piece: 0 }.at(z_mm, side)
}

/// Reads an outline at places that lie near each other.
#[derive(Clone, Debug)]
pub struct Reader<'a> {
    pieces: &'a [Piece],
    piece: usize,
}

impl Reader<'_> {
    /// What is at a place, on the side asked for; beyond the ends there is nothing.
    #[inline]
    pub fn at(&mut self, z_mm: f64, side: Side) -> Option<Found> {
        let pieces = self.pieces;
        let holds = |piece: &Piece| match side {
            Side::Headstock => z_mm > piece.from_z_mm + SAME_PLACE_MM && z_mm <= piece.to_z_mm + SAME_PLACE_MM,
            Side::Tailstock => z_mm >= piece.from_z_mm - SAME_PLACE_MM && z_mm < piece.to_z_mm - SAME_PLACE_MM,
        };
        while self.piece > 0 && z_mm < pieces[self.piece].to_z_mm && !holds(&pieces[self.piece]) {
            self.piece -= 1;
        }
        while self.piece + 1 < pieces.len() && !holds(&pieces[self.piece]) && z_mm >= pieces[self.piece].from_z_mm {
            self.piece += 1;
        }
        let piece = pieces.get(self.piece).filter(|piece| holds(piece))?;
        let share = ((z_mm - piece.from_z_mm) / (piece.to_z_mm - piece.from_z_mm)).clamp(0.0, 1.0);
        let between = |ends: [f64; 2]| if ends[0] == ends[1] { ends[0] } else { ends[0] + (ends[1] - ends[0]) * share };
        Some(Found {
            diameter_mm: between(piece.diameter_mm),
            dial_mm: between(piece.dial_mm),
            off_mm: [0, 1].map(|plane| between([piece.off_mm[0][plane], piece.off_mm[1][plane]])),
        })
    }
}

impl Piece {
    /// The part of the piece between two places inside it.
    fn between(&self, from_z_mm: f64, to_z_mm: f64) -> Self {
        let length_mm = self.to_z_mm - self.from_z_mm;
        let value = |ends: [f64; 2], z_mm: f64| {
            if ends[0] == ends[1] || length_mm <= 0.0 {
                ends[0]
            } else if z_mm == self.to_z_mm {
                ends[1]
            } else {
                ends[0] + (ends[1] - ends[0]) * (z_mm - self.from_z_mm) / length_mm
            }
        };
        Self {
            from_z_mm,
            to_z_mm,
            diameter_mm: [value(self.diameter_mm, from_z_mm), value(self.diameter_mm, to_z_mm)],
            dial_mm: [value(self.dial_mm, from_z_mm), value(self.dial_mm, to_z_mm)],
            off_mm: [from_z_mm, to_z_mm]
                .map(|z_mm| [0, 1].map(|plane| value([self.off_mm[0][plane], self.off_mm[1][plane]], z_mm))),
        }
    }
}
