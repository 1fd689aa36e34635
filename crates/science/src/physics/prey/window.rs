//! How long warm prey stays at a temperature at which a snake takes it.

use super::{Medium, PhaseChange, Spot, Stage, Thawing, Watch};
use units::{Celsius, Seconds};

/// What drying fur takes, as an addition to the film, W/(m²·K): 10 to 15, an estimate. It about halves the window.
pub const WET_FUR_W_M2K: f64 = 12.5;

/// When a surface is within limits, since it was taken out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OfferingWindow {
    /// From here.
    pub opens: Seconds,
    /// To here.
    pub closes: Seconds,
}

/// When the surface of prey that cools in a room lies between limits. The prey is followed to the end of the window, or
/// `patience`. `None` where it never does, or where it would not leave the limits within `patience`.
pub fn offering_window<F: PhaseChange>(
    prey: &mut Thawing<'_, F>,
    room: Celsius,
    film_w_m2k: f64,
    limits: (Celsius, Celsius),
    patience: Seconds,
) -> Option<OfferingWindow> {
    let (lower, upper) = limits;
    let stage = Stage { medium: Medium::Constant(room), film_w_m2k, duration: patience, keep_every: patience };
    let watches = [Watch { spot: Spot::Surface, reaches: upper }, Watch { spot: Spot::Surface, reaches: lower }];
    let end = prey.run(&stage, &watches)?;
    let first = end.profiles.first()?;
    let closes = (*end.crossings.get(1)?)?;
    let starts_inside = (lower.degrees()..=upper.degrees()).contains(&first.surface_c);
    let opens = if starts_inside { Some(Seconds(0.0)) } else { *end.crossings.first()? }?;
    (opens < closes).then_some(OfferingWindow { opens, closes })
}
