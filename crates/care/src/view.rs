//! What a rule may look at: the case as it stood at `now`, with what every rule needs worked out once.
//!
//! No clock, no database. Records that cannot be true beside others are set aside before anything is worked out
//! ([`crate::suspect`]).

use std::borrow::Cow;

use records::Case;
use records::facts::{Enclosure, Household, Outcome, PlannedWhat, Sex, SignKind, Stage};
use records::timeline::{Entry, Timeline};
use species::{Feeding, Figure, Profile};
use units::{Moment, When, Zone};

use crate::age;
use crate::answer::AgeDays;
use crate::digestion::{self, Meals};
use crate::mass::Masses;
use crate::suspect::{self, Sifted, Suspect};
use crate::warmth::Warmth;

/// What a rule may look at.
pub struct View<'a> {
    /// The case.
    pub case: &'a Case,
    /// Its records up to `now`, without those that cannot be true.
    pub line: Cow<'a, Timeline>,
    /// Records that were set aside, with the reason.
    pub suspects: Vec<Suspect>,
    /// Weighings that no animal of its kind can have, set aside too.
    pub slips: Vec<Suspect>,
    /// The profile that serves, with the household's overrides.
    pub profile: &'a Profile,
    /// The moment asked about.
    pub now: Moment,
    /// The zone of clock times.
    pub zone: &'a Zone,
    /// Age, where it is known.
    pub age: Option<AgeDays>,
    /// Stage of life, where it can be told.
    pub stage: Option<Stage>,
    /// Temperatures of late.
    pub warmth: Warmth,
    /// Meals: what was eaten, what was refused.
    pub meals: Meals,
    /// Weighings, made comparable.
    pub masses: Masses,
}

impl<'a> View<'a> {
    /// Works out what every rule needs. `profile` is the one that serves.
    pub fn new(case: &'a Case, profile: &'a Profile, now: Moment) -> View<'a> {
        let then = case.timeline.as_of(now);
        let zone = &case.zone;
        let age = age::of(case, now);
        let Sifted { line, suspects, slips } = suspect::set_aside(case, profile, age, then, now);
        let warmth = Warmth::of(&line.readings, profile, now);
        let meals = Meals::of(&line, profile, &warmth, now);
        let mut masses = Masses::of(&line, &meals, now);
        let stage = age::stage(case, &line, profile, age, &masses, now);
        masses.compare(&line, stage, now);
        View { case, line, suspects, slips, profile, now, zone, age, stage, warmth, meals, masses }
    }

    /// 00:00 of today.
    pub fn today(&self) -> Moment {
        self.zone.day_start(self.now)
    }

    /// 00:00 of the day that `moment` lies in.
    pub fn day_of(&self, moment: Moment) -> Moment {
        self.zone.day_start(moment)
    }

    /// A date as a keeper reads it: `14 Mar 2026`.
    pub fn date(&self, moment: Moment) -> String {
        let date = self.zone.date(moment);
        format!("{} {} {}", date.day(), month(date.month()), date.year())
    }

    /// A date with its hour, where an hour is known.
    pub fn date_of(&self, when: When) -> String {
        match when.precision {
            units::Precision::Minute => {
                let clock = self.zone.clock(when.from);
                format!("{} at {:02}:{:02}", self.date(when.from), clock.hour(), clock.minute())
            }
            units::Precision::Day => self.date(when.from),
            units::Precision::Month => {
                let date = self.zone.date(when.from);
                format!("{} {}", month(date.month()), date.year())
            }
            units::Precision::Year => self.zone.date(when.from).year().to_string(),
        }
    }

    /// «on 14 Mar 2026», «in Mar 2026».
    pub fn on_date(&self, when: When) -> String {
        let is_span = matches!(when.precision, units::Precision::Month | units::Precision::Year);
        format!("{} {}", if is_span { "in" } else { "on" }, self.date_of(when))
    }

    /// How long ago: in hours within the first day, then in days.
    pub fn ago(&self, when: When) -> String {
        let hours = self.now.hours_since(when.to.min(self.now));
        if hours < 24.0 {
            format!("{} ago", plural(hours.floor(), "hour"))
        } else {
            format!("{} ago", days(hours / 24.0))
        }
    }

    /// Days of 24 hours since something happened, at the least (a day without an hour runs to its end).
    pub fn days_since(&self, when: When) -> f64 {
        self.now.days_since(when.to.min(self.now))
    }

    /// The animal's sex where it is known.
    pub fn sex(&self) -> Option<Sex> {
        self.case.animal.sex.filter(|sex| *sex != Sex::Unknown)
    }

    /// The household; nothing is known of it when the case is silent.
    pub fn household(&self) -> Option<&Entry<Household>> {
        self.case.household.as_ref()
    }

    /// The enclosure.
    pub fn enclosure(&self) -> Option<&Entry<Enclosure>> {
        self.case.enclosure.as_ref()
    }

    /// Is it a hatchling (an unknown stage is not)?
    pub fn is_hatchling(&self) -> bool {
        self.stage == Some(Stage::Hatchling)
    }

    /// Is it adult or aged (an unknown stage is not)?
    pub fn is_adult(&self) -> bool {
        matches!(self.stage, Some(Stage::Adult | Stage::Aged))
    }

    /// The feeding of its stage; the adult's where the stage is not known.
    pub fn feeding(&self) -> Option<&'a Feeding> {
        let by = &self.profile.feeding;
        match self.stage {
            Some(Stage::Hatchling) => by.hatchling.as_ref(),
            Some(Stage::Juvenile) => by.juvenile.as_ref(),
            Some(Stage::Subadult) => by.subadult.as_ref(),
            Some(Stage::Adult | Stage::Aged) | None => by.adult.as_ref(),
        }
    }

    /// The interval between sheds of its stage, in days; the adult's where the stage is not known.
    pub fn shed_interval_d(&self) -> Option<&'a Figure> {
        let by = &self.profile.shed.interval_d;
        let figures = match self.stage {
            Some(Stage::Hatchling) => by.hatchling.as_ref(),
            Some(Stage::Juvenile) => by.juvenile.as_ref(),
            Some(Stage::Subadult) => by.subadult.as_ref(),
            Some(Stage::Adult | Stage::Aged) | None => by.adult.as_ref(),
        };
        figures.and_then(|figures| figures.first())
    }

    /// Days without a meal after which the profile asks for an alert, for its stage and sex.
    pub fn refusal_alert_d(&self) -> Option<&'a Figure> {
        let by = &self.profile.refusal_alert_d;
        match self.stage {
            Some(Stage::Hatchling) => by.by_stage.hatchling.as_ref(),
            Some(Stage::Juvenile) => by.by_stage.juvenile.as_ref(),
            Some(Stage::Subadult) => by.by_stage.subadult.as_ref(),
            Some(Stage::Adult | Stage::Aged) | None => {
                let male = by.adult_male.as_ref().filter(|_| self.sex() == Some(Sex::Male));
                male.or(by.by_stage.adult.as_ref())
            }
        }
    }

    /// The shed that is under way: dull or blue, and not off.
    pub fn open_shed(&self) -> Option<&Entry<records::facts::Shed>> {
        /// No cycle of the profiles lasts longer; one that was never ended in the records is over.
        const FORGOTTEN_AFTER_DAYS: f64 = 45.0;
        let last = self.line.sheds.last()?;
        let started = last.steps().next()?;
        (last.shed_at.is_none() && self.now.days_since(started.from) <= FORGOTTEN_AFTER_DAYS).then_some(last)
    }

    /// The winter rest that runs at `now` or is the next to begin within `days_ahead`, where the species bears one.
    pub fn brumation(&self, days_ahead: f64) -> Option<&Entry<records::facts::Planned>> {
        if self.profile.brumation.relevance == "none" {
            return None;
        }
        self.line.planned.iter().find(|plan| {
            plan.what == PlannedWhat::Brumation
                && plan.from.from <= self.now.plus_days(days_ahead)
                && self.now < plan.ends()
        })
    }

    /// Is it resting for the winter now?
    pub fn is_brumating(&self) -> bool {
        self.brumation(0.0).is_some()
    }

    /// Since when it is recorded as gravid (or brooding), with nothing laid or born since.
    pub fn gravid(&self) -> Option<&Entry<records::facts::Breeding>> {
        use records::facts::BreedingWhat;
        let (last, rest) = self.line.breedings.split_last()?;
        let candidate = match last.what {
            BreedingWhat::Gravid => last,
            // Pairing noted after she was known to be gravid ends nothing.
            BreedingWhat::Paired => rest
                .iter()
                .rev()
                .take_while(|one| one.what != BreedingWhat::Laid && one.what != BreedingWhat::Born)
                .find(|one| one.what == BreedingWhat::Gravid)?,
            BreedingWhat::Laid | BreedingWhat::Born => return None,
        };
        let ended = self.last_laid().is_some_and(|laid| candidate.at.from <= laid.from);
        /// No kept snake carries longer; a note that was never ended is over.
        const FORGOTTEN_AFTER_DAYS: f64 = 300.0;
        (!ended && self.now.days_since(candidate.at.from) <= FORGOTTEN_AFTER_DAYS).then_some(candidate)
    }

    /// When she laid, where her kind broods and she has eaten nothing since: until the eggs of her kind have hatched.
    pub fn brooding(&self) -> Option<When> {
        let broods = self.profile.fasting.states.iter().any(|state| state == "brooding");
        let days = self.profile.life.incubation_d.first().filter(|_| broods && !self.profile.live_bearing)?.high;
        let laid = self.last_laid().filter(|laid| self.gravid().is_none() && self.now < laid.to.plus_days(days))?;
        let ate = self.meals.eaten.iter().any(|eaten| laid.from <= eaten.at.from);
        (!ate).then_some(laid)
    }

    /// When she last laid or gave birth, from either kind of record.
    pub fn last_laid(&self) -> Option<When> {
        use records::facts::BreedingWhat;
        let bred = self
            .line
            .breedings
            .iter()
            .filter(|one| matches!(one.what, BreedingWhat::Laid | BreedingWhat::Born))
            .map(|one| one.at);
        let signs = self
            .line
            .signs
            .iter()
            .filter(|one| matches!(one.sign, SignKind::LaidEggs | SignKind::GaveBirth))
            .map(|one| one.at);
        bred.chain(signs).max_by_key(|when| when.from)
    }

    /// The sign that it is missing, where it has not been found since.
    pub fn missing_since(&self) -> Option<&Entry<records::facts::Sign>> {
        let last = self.line.signs.iter().rev().find(|one| matches!(one.sign, SignKind::Missing | SignKind::Found))?;
        (last.sign == SignKind::Missing && last.cleared_at.is_none()).then_some(last)
    }

    /// The last time it was missing and found: (missing, found).
    pub fn last_return(&self) -> Option<(&Entry<records::facts::Sign>, &Entry<records::facts::Sign>)> {
        let found_at = self.line.signs.iter().rposition(|one| one.sign == SignKind::Found)?;
        let found = self.line.signs.get(found_at)?;
        let missing = self.line.signs.get(..found_at)?.iter().rev().find(|one| one.sign == SignKind::Missing)?;
        Some((missing, found))
    }

    /// The sign or the ending that says it is dead.
    pub fn death(&self) -> Option<Cow<'static, str>> {
        use records::facts::EndingWhat;
        let sign = self.line.signs.iter().any(|one| one.sign == SignKind::Dead && one.cleared_at.is_none());
        let ending = self.line.endings.last().is_some_and(|one| one.what == EndingWhat::Died);
        (sign || ending).then_some(Cow::Borrowed("dead"))
    }

    /// Is it dead by the records?
    pub fn is_dead(&self) -> bool {
        self.death().is_some()
    }

    /// The planned stay with somebody else that runs now.
    pub fn stay(&self) -> Option<&Entry<records::facts::Planned>> {
        self.line
            .planned
            .iter()
            .find(|plan| plan.what == PlannedWhat::AnimalAway && plan.from.from <= self.now && self.now < plan.ends())
    }

    /// Is it with somebody else now: lent, sold or given away, or on a planned stay?
    pub fn is_elsewhere(&self) -> bool {
        use records::facts::EndingWhat;
        let ending = self.line.endings.last();
        let gone =
            ending.is_some_and(|one| matches!(one.what, EndingWhat::Lent | EndingWhat::Sold | EndingWhat::Given));
        gone || self.stay().is_some()
    }

    /// Is the power out now (by a cut without an end)?
    pub fn power_out(&self) -> Option<&Entry<records::facts::Power>> {
        self.line.power.iter().rev().find(|cut| cut.until.is_none_or(|until| self.now < until.from))
    }

    /// Is it a python or a boa (by the family of the profile)?
    pub fn is_constrictor_family(&self) -> bool {
        digestion::is_python_or_boa(self.profile)
    }

    /// One of the giants: a species whose adults reach the length at which three people are wanted.
    pub fn is_giant(&self) -> bool {
        let size = &self.profile.size;
        let longest = [&size.adult_length_m_female, &size.adult_length_m_any]
            .into_iter()
            .filter_map(|figures| figures.first())
            .map(|figure| figure.high)
            .fold(0.0, f64::max);
        crate::lines::low("three_person_length").value <= longest && self.is_constrictor_family()
    }

    /// The last meal that was offered, whatever became of it.
    pub fn last_offer(&self) -> Option<&Entry<records::facts::Meal>> {
        self.line.meals.last()
    }

    /// The last meal that came up, with the moment it did.
    pub fn last_regurgitation(&self) -> Option<(&Entry<records::facts::Meal>, When)> {
        self.line
            .meals
            .iter()
            .rev()
            .find(|meal| meal.outcome == Outcome::Regurgitated)
            .map(|meal| (meal, meal.regurgitated_at.unwrap_or(meal.at)))
    }

    /// Is the household in the southern half of the world? Told by the zone's name; `None` when nothing tells.
    pub fn is_southern(&self) -> Option<bool> {
        crate::season::is_southern(self.zone, self.household().and_then(|house| house.region.as_deref()))
    }
}

/// A month in three letters.
pub fn month(number: i8) -> &'static str {
    const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    usize::try_from(number - 1).ok().and_then(|index| MONTHS.get(index).copied()).unwrap_or("")
}

/// Whole days in words: «1 day», «12 days».
pub fn days(count: f64) -> String {
    plural(count.floor(), "day")
}

/// A whole number with its noun.
pub fn plural(count: f64, noun: &str) -> String {
    if count == 1.0 { format!("1 {noun}") } else { format!("{count:.0} {noun}s") }
}

/// Grams as a keeper reads them: under 20 g with a decimal, kilograms from 10 kg.
pub fn grams(mass_g: f64) -> String {
    if mass_g < 19.95 {
        let text = format!("{mass_g:.1} g");
        text.replace(".0 g", " g")
    } else if mass_g < 10_000.0 {
        format!("{mass_g:.0} g")
    } else {
        format!("{:.1} kg", mass_g / 1000.0)
    }
}

/// Metres as a keeper reads them: to the centimetre, without useless zeros.
pub fn metres(length_m: f64) -> String {
    let text = format!("{length_m:.2}");
    format!("{} m", text.trim_end_matches('0').trim_end_matches('.'))
}

/// Degrees as a keeper reads them.
pub fn celsius(degrees: f64) -> String {
    format!("{} °C", number(degrees))
}

/// A number without a useless decimal.
pub fn number(value: f64) -> String {
    let text = format!("{value:.1}");
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// How many times: two decimals near one and below, where a tenth would hide the difference.
pub fn times(ratio: f64) -> String {
    if ratio < 0.095 {
        format!("{ratio:.3}")
    } else if ratio < 1.95 {
        let text = format!("{ratio:.2}");
        text.strip_suffix('0').map_or(text.clone(), str::to_owned)
    } else {
        number(ratio)
    }
}

/// The same text with its first letter as a capital.
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}

/// The same text with its first letter small, for the middle of a sentence.
pub fn small(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_lowercase().chain(chars).collect())
}
