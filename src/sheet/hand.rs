//! How large the words of a page are written: open, or closer where a page would else not hold its set-up. The figures
//! that matter are as large in all of them.

use crate::picture::lettering::Lettering;

/// The lettering of tables and lists.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Hand {
    pub heading: Lettering,
    pub body: Lettering,
    pub strong: Lettering,
    /// Captions, cautions, reasons and sources.
    pub fine: Lettering,
    /// Between blocks, at the least, as all that follows: see [`Hand::roomier`].
    pub between_mm: f64,
    /// Least height of a box that is written into.
    pub blank_mm: f64,
    /// Height of the curve.
    pub plot_mm: f64,
    /// Half the height of a rest seen from the tailstock.
    pub end_half_mm: f64,
    /// Cautions follow each other without a new line for each.
    pub runs_in: bool,
}

/// Where there is room.
pub(super) const OPEN: Hand = Hand {
    heading: Lettering::Heading,
    body: Lettering::Body,
    strong: Lettering::Strong,
    fine: Lettering::Fine,
    between_mm: 2.6,
    blank_mm: 6.7,
    plot_mm: 15.0,
    end_half_mm: 7.0,
    runs_in: false,
};

/// Where there is less.
pub(super) const CLOSE: Hand = Hand {
    heading: Lettering::CloseHeading,
    body: Lettering::CloseBody,
    strong: Lettering::CloseStrong,
    fine: Lettering::CloseFine,
    between_mm: 1.8,
    blank_mm: 5.8,
    plot_mm: 12.0,
    end_half_mm: 6.0,
    runs_in: false,
};

/// Where even that is too much.
pub(super) const CLOSEST: Hand = Hand {
    heading: Lettering::CloseStrong,
    body: Lettering::CloseFine,
    strong: Lettering::CloseStrong,
    fine: Lettering::CloseFine,
    between_mm: 1.4,
    blank_mm: 5.6,
    plot_mm: 10.0,
    end_half_mm: 5.5,
    runs_in: true,
};

impl Hand {
    /// The same letters with more room in what may be larger, from none at 0 to the most at 1.
    pub fn roomier(self, share: f64) -> Self {
        let wider = |mm: f64, most_times: f64| mm * (1.0 + share * (most_times - 1.0));
        Self {
            between_mm: wider(self.between_mm, 2.2),
            blank_mm: wider(self.blank_mm, 1.7),
            plot_mm: wider(self.plot_mm, 3.0),
            end_half_mm: wider(self.end_half_mm, 1.7),
            ..self
        }
    }

    /// Captions and cautions in the letters of everything else.
    pub fn all_alike(self) -> Self {
        Self { fine: self.body, ..self }
    }
}
