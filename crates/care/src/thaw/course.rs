//! One piece of prey on its way: freezer, thawing, warm bath, room air.

use records::facts::Thawing as Way;
use science::physics::prey::estimate::cleland_thawing;
use science::physics::prey::{
    Bath, Body, Food, Medium, PhaseChange, Profile, SPHEROID_TIME_FACTOR, Spot, Stage, Thawing, WET_FUR_W_M2K, Watch,
};
use units::{Celsius, Centimetres, Grams, Seconds};

use super::assumed::Setting;
use crate::lines;

/// What is the same however uncertain the rest is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    pub food: &'static Food,
    pub way: Way,
    /// Pieces in the bath.
    pub count: f64,
    /// Water of this lot, l: its share of the bath by mass.
    pub litres: f64,
    /// Water of the whole bath, l.
    pub bath_litres: f64,
    pub is_bagged: bool,
    /// By how much longer it takes because pieces lie on each other.
    pub stack: f64,
}

/// How long things are done, s; what is not given follows from the course.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Plan {
    /// In the warm bath.
    pub bath_s: Option<f64>,
    /// From the bath to the offering.
    pub offer_s: Option<f64>,
}

/// Temperatures at one time, °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct At {
    /// Since it left the freezer, s.
    pub s: f64,
    pub core: f64,
    pub surface: f64,
    pub mean: f64,
    pub medium: f64,
}

/// How it went.
#[derive(Clone, Debug)]
pub(super) struct Course {
    /// Core at 0 °C, s since it left the freezer.
    pub thawed_s: f64,
    /// Into the bath, s since it left the freezer.
    pub ready_s: f64,
    /// Bath that it needs, s.
    pub needed_s: f64,
    /// Bath that it had, s.
    pub bath_s: f64,
    /// From the bath to the offering, s.
    pub offer_s: f64,
    /// From the offering until the surface is too cool, s; infinite in a room as warm as that.
    pub window_s: f64,
    pub after_bath: At,
    pub at_offer: At,
    pub history: Vec<At>,
    /// Points of the history before the bath.
    pub before_bath: usize,
}

const MINUTE_S: f64 = 60.0;
/// The bath ends when this gain within a minute is no longer reached, kJ/kg: about a tenth of a degree.
const GAIN_KJ_KG: f64 = 0.3;
/// Nothing is followed for longer in water and in room air, s.
const PATIENCE_S: f64 = 6.0 * 3600.0;
/// After the offering it is followed for as long, s.
const AFTERWARDS_S: f64 = 4.0 * 3600.0;

fn celsius(degrees: f64) -> Option<Celsius> {
    Celsius::new(degrees)
}

/// The body of a setting, for the film in which it thaws.
pub(super) fn body(setting: &Setting, food: &Food, film: f64) -> Option<Body> {
    let mass = Grams::new(setting.mass_g)?;
    let (diameter, elongation) = match setting.thickest_cm {
        Some(cm) => {
            let diameter = units::Metres::from(Centimetres::new(cm)?);
            (diameter, elongation_of(setting.mass_g, cm))
        }
        None => (Body::diameter_of_mass(mass, setting.elongation, food.density_kg_m3())?, setting.elongation),
    };
    let biot = film * diameter.metres() / 2.0 / food.conductivity(celsius(0.0)?);
    Body::spheroid(diameter, elongation.max(1.0), biot)
}

/// Length as a multiple of the thickness, from mass and thickness: a spheroid of the density of whole prey.
pub(super) fn elongation_of(mass_g: f64, thickest_cm: f64) -> f64 {
    let density_g_cm3 = Food::USUAL_DENSITY_KG_M3 / 1000.0;
    6.0 * mass_g / (std::f64::consts::PI * density_g_cm3 * thickest_cm.powi(3))
}

fn staged(medium: Medium, film_w_m2k: f64, duration_s: f64, every_s: f64) -> Stage {
    Stage { medium, film_w_m2k, duration: Seconds(duration_s), keep_every: Seconds(every_s) }
}

#[derive(Clone)]
struct Run {
    setting: Setting,
    frame: Frame,
    thawing: Thawing<'static, Food>,
    s: f64,
    history: Vec<At>,
}

impl Run {
    fn new(setting: Setting, frame: Frame, shells: usize) -> Option<Run> {
        let start = celsius(setting.freezer_c)?;
        let film = if is_straight(frame.way) { setting.film_bath } else { setting.film_thaw };
        let body = body(&setting, frame.food, film)?;
        let thawing = Thawing::new(frame.food, body, start, shells)?;
        Some(Run { setting, frame, thawing, s: 0.0, history: Vec::new() })
    }

    /// Goes through a stage, in seconds of the clock, of a body that takes `factor` times as long as its one dimension
    /// says. Gives when each watch was first met, s since the start of the stage.
    fn stage(&mut self, on_clock: Stage, factor: f64, watches: &[Watch], until_seen: bool) -> Option<Vec<Option<f64>>> {
        if on_clock.duration.seconds() <= 0.0 {
            return Some(vec![None; watches.len()]);
        }
        let in_body = |time: Seconds| Seconds(time.seconds() / factor);
        let stage =
            Stage { duration: in_body(on_clock.duration), keep_every: in_body(on_clock.keep_every), ..on_clock };
        let end = if until_seen {
            self.thawing.run_until_seen(&stage, watches)?
        } else {
            self.thawing.run(&stage, watches)?
        };
        let from = self.s;
        let at = |profile: &Profile| At {
            s: from + profile.time.seconds() * factor,
            core: profile.centre_c,
            surface: profile.surface_c,
            mean: profile.mean_c,
            medium: profile.medium_c,
        };
        self.history.extend(end.profiles.iter().map(at));
        self.s = self.history.last().map_or(from, |last| last.s);
        Some(end.crossings.iter().map(|crossing| crossing.map(|time| time.seconds() * factor)).collect())
    }

    fn bath(&self, start_c: f64, loss_factor: f64) -> Option<Medium> {
        let (setting, frame) = (self.setting, self.frame);
        let share = frame.litres / frame.bath_litres;
        Some(Medium::Bath(Bath {
            water: Grams::new(frame.litres * 1000.0)?,
            start: celsius(start_c)?,
            loss_w_k: setting.loss * frame.bath_litres.powf(2.0 / 3.0) * share * loss_factor,
            room: celsius(setting.room_c)?,
            prey: Grams::new(setting.mass_g * frame.count)?,
        }))
    }

    /// In the medium in which it thaws, for so long or (`until_core`) until its core is at 0 °C. Cool water is changed as
    /// the data say. Gives when the core was at 0 °C, s since the start.
    fn thaw(&mut self, real_s: f64, until_core: bool) -> Option<Option<f64>> {
        let (setting, factor) = (self.setting, SPHEROID_TIME_FACTOR * self.frame.stack);
        let core = [Watch { spot: Spot::Centre, reaches: celsius(0.0)? }];
        if self.frame.way != Way::CoolWater {
            let medium = Medium::Constant(celsius(setting.around_c)?);
            let every = (real_s / 48.0).clamp(60.0, 900.0);
            let stage = staged(medium, setting.film_thaw, real_s, every);
            return self.stage(stage, factor, &core, until_core)?.pop();
        }
        let change_s = lines::low("thaw_water").value * 60.0;
        let (mut gone, mut thawed) = (0.0, None);
        while gone < real_s {
            let fresh = self.bath(setting.around_c, factor)?;
            let this = change_s.min(real_s - gone);
            let seen =
                self.stage(staged(fresh, setting.film_thaw, this, MINUTE_S), factor, &core, until_core)?.pop()?;
            thawed = thawed.or(seen.map(|s| gone + s));
            if until_core && thawed.is_some() {
                break;
            }
            gone += this;
        }
        Some(thawed)
    }

    /// Longer than any thawing that comes to an end, s.
    fn patience_s(&self) -> Option<f64> {
        let (setting, body) = (self.setting, self.thawing.body());
        let around = celsius(setting.around_c)?;
        let estimate = cleland_thawing(self.frame.food, &body, setting.film_thaw, around, celsius(setting.freezer_c)?)?;
        Some(4.0 * estimate.seconds() * self.frame.stack + 3600.0)
    }

    /// In the warm bath until it is warm through, or gains no more. Gives how long that is and when the core was at 0 °C.
    fn bathe_until_warm(&mut self) -> Option<(f64, Option<f64>)> {
        let target = target_c(&self.setting);
        let watches = [
            Watch { spot: Spot::Mean, reaches: celsius(target)? },
            Watch { spot: Spot::Centre, reaches: celsius(0.0)? },
        ];
        let (mut water, mut gone, mut thawed) = (self.setting.water_c, 0.0, None);
        while gone < PATIENCE_S {
            let before = self.thawing.mean_enthalpy_kj_kg();
            let medium = self.bath(water, SPHEROID_TIME_FACTOR)?;
            let seen = self.stage(
                staged(medium, self.setting.film_bath, MINUTE_S, MINUTE_S),
                SPHEROID_TIME_FACTOR,
                &watches,
                false,
            )?;
            let [warm, core] = seen.as_slice() else { return None };
            thawed = thawed.or(core.map(|s| gone + s));
            if let Some(s) = warm {
                return Some((gone + s, thawed));
            }
            gone += MINUTE_S;
            water = self.history.last()?.medium;
            if self.thawing.mean_enthalpy_kj_kg() - before < GAIN_KJ_KG {
                break;
            }
        }
        Some((gone, thawed))
    }

    /// The same piece from here on, without what came before.
    fn fork(&self) -> Run {
        Run { thawing: self.thawing.clone(), history: Vec::new(), ..*self }
    }
}

/// Does it go from the freezer straight into warm water?
pub(super) fn is_straight(way: Way) -> bool {
    matches!(way, Way::WarmWater | Way::HotWater)
}

/// The evened-out temperature at which the bath ends, °C; less where the water is hardly warmer.
pub(super) fn target_c(setting: &Setting) -> f64 {
    const UNDER_THE_WATER_K: f64 = 1.5;
    lines::low("thaw_core_warm").value.min(setting.water_c - UNDER_THE_WATER_K)
}

/// A piece that is ready for the warm bath.
#[derive(Clone)]
pub(super) struct Ready {
    run: Run,
    /// Core at 0 °C, s since the freezer; `None` where it goes into the bath frozen.
    thawed_s: Option<f64>,
    /// Since the freezer, s.
    ready_s: f64,
}

/// Thawed until its core is at 0 °C and then for as long as `ready_s` says of that time. `None` where it never thaws.
pub(super) fn thaw_and_wait(
    setting: &Setting,
    frame: &Frame,
    shells: usize,
    ready_s: impl FnOnce(f64) -> f64,
) -> Option<Ready> {
    let mut run = Run::new(*setting, *frame, shells)?;
    if is_straight(frame.way) {
        return Some(Ready { run, thawed_s: None, ready_s: 0.0 });
    }
    let patience = run.patience_s()?;
    let thawed_s = run.thaw(patience, true)??;
    let ready_s = ready_s(thawed_s);
    run.thaw(ready_s - run.s, false)?;
    Some(Ready { run, thawed_s: Some(thawed_s), ready_s })
}

/// Taken out of where it thaws at a time that is set, thawed or not. `None` where it never thaws.
pub(super) fn thaw_for(setting: &Setting, frame: &Frame, shells: usize, ready_s: f64) -> Option<Ready> {
    let mut run = Run::new(*setting, *frame, shells)?;
    if is_straight(frame.way) {
        return Some(Ready { run, thawed_s: None, ready_s: 0.0 });
    }
    let mut thawed_s = run.thaw(ready_s, false)?;
    if thawed_s.is_none() {
        let patience = run.patience_s()?;
        thawed_s = run.fork().thaw(patience, true)?.map(|s| ready_s + s);
    }
    Some(Ready { run, thawed_s, ready_s })
}

/// Warmed and offered. `None` where it never thaws.
pub(super) fn warm(ready: &Ready, setting: &Setting, plan: Plan) -> Option<Course> {
    let mut run = Run { setting: *setting, ..ready.run.clone() };
    let frame = run.frame;
    let before_bath = run.history.len();
    let (needed_s, in_bath) = run.fork().bathe_until_warm()?;
    let thawed_s = ready.thawed_s.or(in_bath)?;
    let bath_s = plan.bath_s.unwrap_or((needed_s / MINUTE_S).ceil() * MINUTE_S);
    let medium = run.bath(setting.water_c, SPHEROID_TIME_FACTOR)?;
    run.stage(staged(medium, setting.film_bath, bath_s, MINUTE_S), SPHEROID_TIME_FACTOR, &[], false)?;
    let after_bath = *run.history.last()?;

    let (low, high) = (lines::low("prey_surface_temp").value, lines::high("prey_surface_temp").value);
    let film = setting.film_air + if frame.is_bagged { 0.0 } else { WET_FUR_W_M2K };
    let watches =
        [Watch { spot: Spot::Surface, reaches: celsius(high)? }, Watch { spot: Spot::Surface, reaches: celsius(low)? }];
    let air = Medium::Constant(celsius(setting.room_c)?);
    let from = run.history.len();
    let seen = run.stage(staged(air, film, PATIENCE_S, MINUTE_S), SPHEROID_TIME_FACTOR, &watches, true)?;
    let [opens, closes] = seen.as_slice() else { return None };
    let surface = run.history.get(from).map_or(f64::NAN, |at| at.surface);
    let dry_s = lines::low("thaw_dry").value * 60.0;
    let opens_s = if high < surface { opens.unwrap_or(dry_s) } else { 0.0 };
    let offer_s = plan.offer_s.unwrap_or((opens_s.max(dry_s) / MINUTE_S).round() * MINUTE_S);
    // Where it is too cool from the start it never closes again.
    let closes_s = if surface < low { 0.0 } else { closes.unwrap_or(f64::INFINITY) };
    let offered_at = after_bath.s + offer_s;
    // The main course is followed on, for growth; of the others only the offering counts.
    let until = offered_at + if plan.offer_s.is_some() { 0.0 } else { AFTERWARDS_S };
    let rest_s = until - run.s;
    run.stage(staged(air, film, rest_s, MINUTE_S), SPHEROID_TIME_FACTOR, &[], false)?;
    let at_offer = *run.history.iter().skip(from).find(|at| offered_at <= at.s + 1.0)?;
    Some(Course {
        thawed_s,
        ready_s: ready.ready_s,
        needed_s,
        bath_s,
        offer_s,
        window_s: (closes_s - offer_s).max(0.0),
        after_bath,
        at_offer,
        history: run.history,
        before_bath,
    })
}
