//! Bodies that warm or cool without a change of phase: exact series, the half-space, one lump.
//!
//! θ = (T − T∞)/(Ti − T∞) falls from 1 to 0; Bi = hL/k, Fo = αt/L² with L the half thickness or the radius.

mod bessel;
mod half_space;
mod lump;
mod series;

pub use half_space::{depth_of_fraction, half_space_with_film, half_space_with_fixed_surface};
pub use lump::{is_one_lump, lump_time_constant, theta_of_lump};
pub use series::{Series, Shape, Term, finite_cylinder_centre};
