//! Midspan: where to support long, slender work on a manual lathe, and what the cut will leave.
//!
//! # The one page to read first
//!
//! **Units.** mm, N, MPa, s, rad, kg, K everywhere inside and in files; speeds in rpm. Every `f64` name ends in
//! its unit. Display units live in [`job::quantity`] and nowhere else.
//!
//! **Axes.** z runs along the spindle axis from the chuck jaw face (or the headstock centre's point) towards the
//! tailstock. x is horizontal, positive away from the operator; y is up. The end view looks from the tailstock
//! to the headstock: rear is to the right, the tool stands at the left. The spindle turns the work anticlockwise
//! in that view, so the tool pushes the work away (+x, radial force) and up (+y, main force).
//! Angles of jaws run from +x towards +y.
//!
//! **Two bends are never mixed.** A bend *fixed in space* (cut, sag, a rest or tailstock off the axis) makes wrong
//! size and shape; a bend that *turns with the work* (bent bar, off-true grip) makes run-out.
//!
//! **Layers.** `job`, `mechanics` <- `study` <- `advice` <- `picture` <- `sheet` <- `app`; a layer uses those to its left
//! only, `mechanics` uses nothing of `job`, and egui lives in `app` alone. A test keeps this.

pub mod advice;
pub mod app;
pub mod job;
pub mod mechanics;
pub mod picture;
pub mod sheet;
pub mod study;
