//! The described enclosure fitted to a log, and what came of it.

use records::Fault;
use records::facts::Fitted;
use science::physics::calibration::{FitFault, Lag, ScaledFit, fit_scaled};
use science::physics::network::{Network, NetworkFault};
use units::{Seconds, When};

use super::certain::{Certainty, Follows, range};
use super::laid::{Laid, lay, refused};
use super::log::{LogTable, length};
use super::{cooling, doubts, shown};
use crate::lines;
use crate::twin::matched::{Factors, SIDES};
use crate::twin::model::Drive;
use crate::twin::{Description, Guesses, Model, words};
use crate::what_if::{Amount, Basis, Known, Question, Range, Reckoning, Unit};

/// Fits a log of the enclosure that a question is about. `watts` is the power of the main heater where the record does
/// not tell it, or a meter says another. Gives what came of it, and the record to keep: `None` where the log does not
/// carry one, which the answer says.
pub fn fit_log(log: &LogTable, known: &Known, watts: Option<f64>) -> Result<(Reckoning, Option<Fitted>), Vec<Fault>> {
    let place = known.place.as_ref();
    let described = place.and_then(|place| {
        Description::recorded(&place.enclosure, &place.heaters, known.household.as_ref(), Vec::new())
    });
    let Some(mut described) = described else {
        let mend = "add its length, width and height, and its heater; then give the same log again";
        return Err(vec![Fault::new("nothing says how large the enclosure is", "the enclosure", mend)]);
    };
    let Some(laid) = lay(log, described.heaters.first(), watts)? else {
        return cooling::told(log).map(|answer| (answer, None));
    };
    let Some(main) = described.heaters.first_mut() else {
        let mend = "add its heater, at least of what kind it is; then give the same log again";
        return Err(vec![Fault::new("nothing says what heats the enclosure", "the enclosure", mend)]);
    };
    main.watts = Some(laid.rated);
    let lag = if log.step_s <= 120.0 { Lag::Around(Seconds(120.0)) } else { Lag::None };
    let (found, network, share) = fit(&described, &laid, lag).map_err(|fault| refused(log, &fault))?;
    let no_network = |_: NetworkFault| refused(log, &FitFault::Unidentifiable);
    let [to_room, between, capacity] = found.factors;
    let follows = network
        .scaled(to_room, SIDES, between, capacity)
        .and_then(|network| Follows::of(&network, share))
        .map_err(no_network)?;
    let certainty = Certainty::of(&found, &network, share).map_err(no_network)?;
    let fitted = record_of(log, &laid, &found, &follows, &certainty).map_err(no_network)?;
    let before = place.filter(|place| place.changed().is_empty()).and_then(|place| place.fitted.as_ref());
    let told = Told {
        log,
        laid: &laid,
        found: &found,
        follows: &follows,
        certainty: &certainty,
        fitted: &fitted,
        described: &described,
        before,
    };
    let answer = told.answer();
    let is_believed = ["fit-poor", "fit-open"].iter().all(|key| answer.warning(key).is_none());
    Ok((answer, is_believed.then_some(fitted)))
}

/// The network of a description fitted to a log: with it, and the share of its heater that goes to the warm side. Films and
/// evaporation are those of the mean of the log.
fn fit(described: &Description, laid: &Laid, lag: Lag) -> Result<(ScaledFit, Network, f64), FitFault> {
    /// Of evaluating films at what was found.
    const ROUNDS: usize = 2;
    let no_network = |fault: NetworkFault| FitFault::NoMinimum(fault.to_string());
    let model = Model::new(described, &Guesses::of(described).middle()).map_err(no_network)?;
    let share = model.warm_share().unwrap_or(f64::NAN);
    let mut drives = vec![Drive::Gives(0.0); model.heater_count()];
    if let Some(main) = drives.first_mut() {
        *main = Drive::Gives(laid.mean_w);
    }
    let round = |factors: Factors| {
        let state = model.with_factors(factors).settled(&drives, laid.room_c).map_err(no_network)?;
        let network = model.described_at(&state).map_err(no_network)?;
        fit_scaled(&laid.log, &network, SIDES, lag).map(|found| (found, network))
    };
    let mut last = round(Factors::NONE)?;
    for _ in 1..ROUNDS {
        let [to_room, between, capacity] = last.0.factors;
        last = round(Factors { to_room, between, capacity })?;
    }
    Ok((last.0, last.1, share))
}

/// The record of a fit.
fn record_of(
    log: &LogTable,
    laid: &Laid,
    found: &ScaledFit,
    follows: &Follows,
    certainty: &Certainty,
) -> Result<Fitted, NetworkFault> {
    let zones = &follows.zones;
    let [way, across, holds] = certainty.of_halves(zones)?.map(|sd| 100.0 * sd);
    Ok(Fitted {
        at: When::exactly(log.until()),
        from: When::exactly(log.from),
        warm_to_room_w_k: zones.warm_to_room_w_k,
        warm_to_room_w_k_sd_pct: way,
        cool_to_room_w_k: zones.cool_to_room_w_k,
        cool_to_room_w_k_sd_pct: way,
        warm_to_cool_w_k: zones.warm_to_cool_w_k,
        warm_to_cool_w_k_sd_pct: across,
        warm_kj_k: zones.warm_j_k / 1000.0,
        warm_kj_k_sd_pct: holds,
        cool_kj_k: zones.cool_j_k / 1000.0,
        cool_kj_k_sd_pct: holds,
        heater_share: zones.heater_share,
        heater_share_sd_pct: 0.0,
        watts: laid.rated,
        rms_k: found.rms_k,
        log_rows: u32::try_from(log.used).unwrap_or(u32::MAX),
    })
}

/// All that the answer rests on.
pub(super) struct Told<'a> {
    pub log: &'a LogTable,
    pub laid: &'a Laid,
    pub found: &'a ScaledFit,
    pub follows: &'a Follows,
    pub certainty: &'a Certainty,
    pub fitted: &'a Fitted,
    pub described: &'a Description,
    /// What the log before said, of the enclosure as it still is.
    pub before: Option<&'a Fitted>,
}

impl Told<'_> {
    fn answer(&self) -> Reckoning {
        let fitted = self.fitted;
        let basis = Basis::Fitted { from: self.log.from, until: self.log.until(), rms_k: fitted.rms_k };
        let mut answer = Reckoning::to(Question::Calibrate, basis);
        let goal = &self.follows.goal;
        let certainty = self.certainty.on_other_days(self.found.rms_k);
        let warm = range(goal.warm_k_w * fitted.watts, certainty.warm);
        let cool = range(goal.cool_k_w * fitted.watts, certainty.cool);
        let time = range(goal.time_s / 3600.0, certainty.time);
        answer.says.push(format!(
            "With its {:.0} W always on, the warm side comes to stand {} over the room and the cool side {}; switched off, a third of that is left after {}.",
            fitted.watts,
            words::kelvin(warm),
            words::kelvin(cool),
            words::hours(time)
        ));
        answer.says.push(format!(
            "Over {} of log the model is {:.1} K off what was measured, on average.",
            length(self.log),
            fitted.rms_k
        ));
        self.amounts(&mut answer, warm, cool, time);
        doubts::warn(self, &mut answer);
        doubts::untold(self, &mut answer);
        shown::curves(&mut answer, self.log, self.found);
        answer.tables.extend(shown::left_over(self.log, self.found));
        answer.tables.extend(shown::changes(self.described, fitted.watts, [warm, cool, time]));
        answer.sources = vec![lines::source("twin_fit"), lines::source("twin_fit_rise")];
        answer.cautions = vec!["sensors"];
        answer
    }

    fn amounts(&self, answer: &mut Reckoning, warm: Range, cool: Range, time: Range) {
        let (follows, certainty) = (self.follows, self.certainty.on_other_days(self.found.rms_k));
        let mut push = |key, says: &str, range, unit| {
            let amount = Amount::new(key, says, range, unit);
            let is_in_a_table = ["rise-warm", "rise-cool", "cooling-time"].contains(&key);
            answer.amounts.push(if is_in_a_table { amount.in_a_table() } else { amount });
        };
        push("rise-warm", "warm side over the room with the heater always on", warm, Unit::Kelvin);
        push("rise-cool", "cool side over the room with the heater always on", cool, Unit::Kelvin);
        push("cooling-time", "until a third of the warmth is left without heat", time, Unit::Hours);
        let loss = range(follows.loss_w_k, certainty.loss);
        push("loss", "heat that goes to the room for each K inside over it", loss, Unit::WattsPerKelvin);
        let across = range(follows.zones.warm_to_cool_w_k, certainty.across);
        push(
            "warm-to-cool",
            "heat that goes from the warm to the cool side for each K between them",
            across,
            Unit::WattsPerKelvin,
        );
        let holds = range(follows.holds_kj_k, certainty.holds);
        push("holds", "heat that the enclosure holds for each K", holds, Unit::KilojoulesPerKelvin);
        push("mean-power", "what the heater gave on average", Range::exactly(self.laid.mean_w), Unit::Watts);
        push("left-over", "what the model leaves over", Range::exactly(self.fitted.rms_k), Unit::Kelvin);
        if let Some(sd) = certainty.lag {
            let lag = range(self.found.lag.seconds() / 60.0, sd);
            push("sensor-lag", "how slowly the thermometers follow", lag, Unit::Minutes);
        }
    }
}
