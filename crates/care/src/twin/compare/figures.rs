//! What is compared of an enclosure: one set of figures for each way in which it may be.

use records::facts::Spot;
use science::physics::network::NetworkFault;
use units::{Seconds, Watts};

use crate::draft::Line;
use crate::twin::guesses::{Unknown, Values};
use crate::twin::model::{Drive, Place, drives};
use crate::twin::moisture::{Air, saturated_kg_m3, wet};
use crate::twin::warmth::with_a_heater;
use crate::twin::{Description, Model, State};

/// What is asked of both.
pub(super) struct Asked {
    /// The warm surface, °C.
    pub(super) target_c: f64,
    /// The line of a power cut.
    pub(super) cut: Line,
    /// The humidity that is wanted at the cool side, %.
    pub(super) wanted_pct: Option<f64>,
}

/// The figures; no number where one cannot be told.
#[derive(Clone, Copy, Debug)]
pub(super) struct Figures {
    /// Power of the main heater that holds the target, W.
    pub(super) watts: f64,
    /// Energy of a month by all heaters, kWh.
    pub(super) kwh: f64,
    /// Warm surface with the heater always on, °C.
    pub(super) reaches_c: f64,
    /// Air of the cool side at the target, °C.
    pub(super) cool_c: f64,
    /// Warm surface over that, K.
    pub(super) gradient_k: f64,
    /// Until the warmest place is under the line in a power cut, h; infinite where it is not.
    pub(super) hours: f64,
    /// Humidity of the cool air without effort, %.
    pub(super) pct: f64,
    /// Water that leaves a day at what is wanted, g.
    pub(super) water_g: f64,
}

/// Steps of a cool-down, s, and how many of them: two days.
const STEP_S: f64 = 600.0;
const STEPS: usize = 288;

/// Hours without power until the warmest place is under a line, the room as it is; infinite where it is not in two days.
fn hours_to(model: &Model, held: &State, line_c: f64) -> Result<f64, NetworkFault> {
    let off = vec![Watts(0.0); model.heater_count()];
    let course = model.course(held, held, &off, |_| held.room_c(), Seconds(STEP_S), STEPS)?;
    let warmest: Vec<f64> = course.iter().map(|now| now.iter().copied().fold(f64::NEG_INFINITY, f64::max)).collect();
    let passed = warmest.iter().zip(warmest.iter().skip(1)).position(|(_, after)| *after < line_c);
    let between = passed.and_then(|step| Some((step, *warmest.get(step)?, *warmest.get(step + 1)?)));
    Ok(match between {
        Some((_, before, _)) if before < line_c => 0.0,
        Some((step, before, after)) => (step as f64 + (before - line_c) / (before - after)) * STEP_S / 3600.0,
        None => f64::INFINITY,
    })
}

/// An enclosure to compare: as described, and with a heater that has all the power it needs.
pub(super) struct Candidate {
    described: Description,
    unlimited: Description,
}

impl Candidate {
    pub(super) fn of(described: &Description) -> Candidate {
        let described = with_a_heater(described);
        let mut unlimited = described.clone();
        if let Some(main) = unlimited.heaters.first_mut() {
            main.watts = None;
        }
        Candidate { described, unlimited }
    }

    pub(super) fn described(&self) -> &Description {
        &self.described
    }

    fn driven(described: &Description, model: &Model, main: Drive) -> Vec<Drive> {
        let mut all = drives(described, model, false, None);
        if let Some(first) = all.first_mut() {
            *first = main;
        }
        all
    }

    /// Held at the target, with the model that holds it.
    fn held(&self, asked: &Asked, values: &Values) -> Result<(Model, State), NetworkFault> {
        let model = Model::new(&self.unlimited, values)?;
        let main = Drive::Holds(Place::At(Spot::WarmSurface), asked.target_c);
        let all = Candidate::driven(&self.unlimited, &model, main);
        let state = model.settled(&all, values.of(Unknown::Room))?;
        Ok((model, state))
    }

    /// Power of the main heater that holds the target, W.
    pub(super) fn watts(&self, asked: &Asked, values: &Values) -> Result<f64, NetworkFault> {
        let (_, state) = self.held(asked, values)?;
        Ok(state.powers().first().map_or(f64::NAN, |power| power.watts()))
    }

    /// All figures for one set of values.
    pub(super) fn figures(&self, asked: &Asked, values: &Values) -> Result<Figures, NetworkFault> {
        let (model, state) = self.held(asked, values)?;
        let limited = Model::new(&self.described, values)?;
        let reaches_c = if limited.most_w(0).is_finite() {
            let all = Candidate::driven(&self.described, &limited, Drive::Gives(limited.most_w(0)));
            limited.settled(&all, values.of(Unknown::Room))?.spot(Spot::WarmSurface)
        } else {
            f64::NAN
        };
        let cool_c = state.spot(Spot::CoolAir);
        let air = Air::of(&model, &state);
        let vapour = air.settles(&wet(&model, &state)).ok_or(NetworkFault::Range("exchange of air"))?;
        // A room that is damper than what is wanted takes no water away.
        let held = |pct: f64| air.loss_g_day(pct / 100.0 * saturated_kg_m3(cool_c)).max(0.0);
        Ok(Figures {
            watts: state.powers().first().map_or(f64::NAN, |power| power.watts()),
            // A month of the year on average.
            kwh: state.power_w() * 24.0 * 30.4375 / 1000.0,
            reaches_c,
            cool_c,
            gradient_k: state.spot(Spot::WarmSurface) - cool_c,
            hours: hours_to(&model, &state, asked.cut.value)?,
            pct: vapour.humidity_pct(cool_c),
            water_g: asked.wanted_pct.map_or(f64::NAN, held),
        })
    }
}
