//! Shells of a body, stepped by their enthalpy.
//!
//! Faces at r = jR/N, flux ΔΦ/Δr with Φ = ∫ k dT, the surface through half a shell of the mean k up to it. Where k changes threefold from
//! one shell to the next, Φ needs half as many shells as a mean of k. Explicit steps, always short enough that no shell
//! overshoots its neighbours; their error is far below that of the shells. The enthalpy carries melting without any
//! front to follow.
//!
//! Source: the enthalpy method; Eyres et al. 1946, Phil. Trans. R. Soc. A 240:1; Pham 2006, Int. J. Refrig. 29:876.

use super::around::Around;
use super::stage::{Profile, Stage, StageEnd, Watch, passed};
use super::{Body, Condition, PhaseChange};
use units::{Celsius, Seconds};

/// A body on its way.
#[derive(Clone, Debug)]
pub struct Thawing<'a, F: PhaseChange> {
    food: &'a F,
    body: Body,
    /// Enthalpy of each shell from the middle out, kJ/kg.
    enthalpy: Vec<f64>,
    /// Area of the outer face of each shell, m^(E−1).
    outer_area: Vec<f64>,
    /// Volume of each shell, m^E, and one over it.
    volume: Vec<f64>,
    per_volume: Vec<f64>,
    condition: Vec<Condition>,
    flow: Vec<f64>,
    /// Mean conductivity between the middle of the outermost shell and the surface, W/(m·K).
    skin_w_mk: f64,
}

/// Of the longest step that keeps every shell between its neighbours.
const SAFETY: f64 = 0.8;

impl<'a, F: PhaseChange> Thawing<'a, F> {
    /// All shells at one temperature. Forty are enough. `None` unless there are 2 to 2000.
    pub fn new(food: &'a F, body: Body, start: Celsius, shells: usize) -> Option<Thawing<'a, F>> {
        if !(2..=2000).contains(&shells) {
            return None;
        }
        let (r, e) = (body.radius().metres(), body.dimension());
        let face = |j: usize| r * j as f64 / shells as f64;
        let volume: Vec<f64> = (1..=shells).map(|j| (face(j).powf(e) - face(j - 1).powf(e)) / e).collect();
        Some(Thawing {
            food,
            body,
            enthalpy: vec![food.enthalpy_kj_kg(start.degrees()); shells],
            outer_area: (1..=shells).map(|j| face(j).powf(e - 1.0)).collect(),
            per_volume: volume.iter().map(|volume| 1.0 / volume).collect(),
            volume,
            condition: vec![Condition::default(); shells],
            flow: vec![0.0; shells],
            skin_w_mk: food.conductivity_w_mk(food.enthalpy_kj_kg(start.degrees())),
        })
    }

    /// The body.
    pub fn body(&self) -> Body {
        self.body
    }

    /// Mean enthalpy, kJ/kg.
    pub fn mean_enthalpy_kj_kg(&self) -> f64 {
        let heat: f64 = self.enthalpy.iter().zip(&self.volume).map(|(h, v)| h * v).sum();
        heat / self.volume.iter().sum::<f64>()
    }

    /// Mass share that is still below its freezing point.
    pub fn frozen_share(&self, freezing: Celsius) -> f64 {
        let limit = self.food.enthalpy_kj_kg(freezing.degrees());
        let frozen: f64 = self.enthalpy.iter().zip(&self.volume).filter(|(h, _)| **h < limit).map(|(_, v)| v).sum();
        frozen / self.volume.iter().sum::<f64>()
    }

    /// Enthalpy of each shell from the middle out, kJ/kg.
    pub fn enthalpies_kj_kg(&self) -> &[f64] {
        &self.enthalpy
    }

    /// Goes through a stage. `None` unless film and durations are above zero.
    pub fn run(&mut self, stage: &Stage, watches: &[Watch]) -> Option<StageEnd> {
        self.step_through(stage, watches, false)
    }

    /// Goes through a stage, but no further than until all that is watched has been seen.
    pub fn run_until_seen(&mut self, stage: &Stage, watches: &[Watch]) -> Option<StageEnd> {
        self.step_through(stage, watches, true)
    }

    fn step_through(&mut self, stage: &Stage, watches: &[Watch], stops_when_seen: bool) -> Option<StageEnd> {
        let (film, duration, every) = (stage.film_w_m2k, stage.duration.seconds(), stage.keep_every.seconds());
        if !(0.0 < film && film.is_finite() && 0.0 < duration && 0.0 < every) {
            return None;
        }
        let mut around = Around::new(stage.medium, &self.body, self.food.density_kg_m3());
        let mut crossings = vec![None; watches.len()];
        let mut profiles = Vec::new();
        self.read_shells(film, around.degrees);
        let mut now = self.profile(0.0, film, around.degrees);
        profiles.push(now);
        let (mut time, mut kept) = (0.0, 1u64);
        while time < duration {
            let next_stop = (kept as f64 * every).min(duration);
            let step = self.longest_step(film).min(around.longest_step(film)).min(next_stop - time);
            let flux = self.advance(step, film, around.degrees);
            around.advance(step, flux);
            let is_stop = next_stop - time <= step;
            time = if is_stop { next_stop } else { time + step };
            self.read_shells(film, around.degrees);
            let before = now;
            now = self.profile(time, film, around.degrees);
            for (watch, crossing) in watches.iter().zip(&mut crossings) {
                if crossing.is_none() {
                    *crossing = passed(watch, &before, &now);
                }
            }
            let is_seen = stops_when_seen && crossings.iter().all(Option::is_some);
            if is_stop || is_seen {
                profiles.push(now);
                kept += 1;
            }
            if is_seen {
                break;
            }
        }
        Some(StageEnd { crossings, profiles })
    }

    fn read_shells(&mut self, film: f64, medium: f64) {
        for (h, condition) in self.enthalpy.iter().zip(&mut self.condition) {
            *condition = self.food.condition(*h);
        }
        // ΔΦ/ΔT from the shell to the surface; the surface depends on it, but so weakly that two rounds are enough.
        if let Some(last) = self.condition.last().copied() {
            for _ in 0..2 {
                let surface = medium - self.surface_flux(film, medium) / film;
                let over = surface - last.temperature_c;
                let outside = self.food.flow_potential_w_m(self.food.enthalpy_kj_kg(surface));
                self.skin_w_mk =
                    if 1e-6 < over.abs() { (outside - last.flow_potential_w_m) / over } else { last.conductivity_w_mk };
            }
        }
    }

    /// Heat that comes in per outer area, W/m².
    fn surface_flux(&self, film: f64, medium: f64) -> f64 {
        let t = self.condition.last().map_or(f64::NAN, |last| last.temperature_c);
        (medium - t) / (1.0 / film + self.shell_width() / (2.0 * self.skin_w_mk))
    }

    fn shell_width(&self) -> f64 {
        self.body.radius().metres() / self.enthalpy.len() as f64
    }

    /// The longest step at which every shell stays between its neighbours, s.
    fn longest_step(&self, film: f64) -> f64 {
        let width = self.shell_width();
        let per_width = 1.0 / width;
        // ΔΦ/ΔT lies between the conductivities of both shells.
        let between = self.condition.windows(2).zip(&self.outer_area).map(|(pair, area)| match pair {
            [one, next] => area * one.conductivity_w_mk.max(next.conductivity_w_mk) * per_width,
            _ => f64::NAN,
        });
        let skin = self.outer_area.last().map(|area| area / (1.0 / film + width / (2.0 * self.skin_w_mk)));
        let mut inner = 0.0;
        let mut fastest = 0.0f64;
        for (outer, (condition, per_volume)) in between.chain(skin).zip(self.condition.iter().zip(&self.per_volume)) {
            fastest = fastest.max((inner + outer) * per_volume / condition.heat_kj_kgk);
            inner = outer;
        }
        SAFETY * 1000.0 * self.food.density_kg_m3() / fastest
    }

    /// One step; gives the heat that came in per outer area, W/m².
    fn advance(&mut self, step: f64, film: f64, medium: f64) -> f64 {
        let per_width = 1.0 / self.shell_width();
        // Heat through the outer face of each shell, inwards.
        for ((flow, pair), area) in self.flow.iter_mut().zip(self.condition.windows(2)).zip(&self.outer_area) {
            if let [inner, outer] = pair {
                *flow = (outer.flow_potential_w_m - inner.flow_potential_w_m) * per_width * area;
            }
        }
        let surface = self.surface_flux(film, medium);
        if let (Some(flow), Some(area)) = (self.flow.last_mut(), self.outer_area.last()) {
            *flow = surface * area;
        }
        let scale = step / (1000.0 * self.food.density_kg_m3());
        let mut inner = 0.0;
        for ((h, flow), per_volume) in self.enthalpy.iter_mut().zip(&self.flow).zip(&self.per_volume) {
            *h += scale * (flow - inner) * per_volume;
            inner = *flow;
        }
        surface
    }

    /// At r = 0: the parabola through the two innermost shells, flat in the middle.
    fn centre(&self) -> f64 {
        match self.condition.as_slice() {
            [first, second, ..] => first.temperature_c - (second.temperature_c - first.temperature_c) / 8.0,
            _ => f64::NAN,
        }
    }

    fn profile(&self, time: f64, film: f64, medium: f64) -> Profile {
        let flux = self.surface_flux(film, medium);
        Profile {
            time: Seconds(time),
            centre_c: self.centre(),
            surface_c: medium - flux / film,
            mean_c: self.food.temperature_c(self.mean_enthalpy_kj_kg()),
            medium_c: medium,
        }
    }
}
