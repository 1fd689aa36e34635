//! What is asked about before it is written down.
//!
//! [`refusals`]: what cannot be, whatever the keeper says (a date that lies ahead, a weighing before the animal
//! hatched). [`doubts`]: what is odd but possible (a meal heavier than the animal, a shed a week after the last); it is
//! kept after a yes. Both are pure and tell everything at once.

use records::facts::{Animal, Cleaning, CleaningTask, EndingWhat, Handling, Meal, Reading, Shed, Spot, Weighing};
use records::{Case, Entry, Fact, Fault, Key, Kind, RecordId, Timeline};
use species::{Climate, Profile};
use units::mass::{GRAMS_PER_OUNCE, GRAMS_PER_POUND};
use units::{Moment, When, Zone};

use crate::answer::Action;
use crate::lines;
use crate::view::{celsius, days, grams, month, number};

/// What cannot be. `animal` is whom it is about, where it is about one.
pub fn refusals(animal: Option<&Animal>, fact: &Fact, now: Moment, zone: &Zone) -> Vec<Fault> {
    let mut faults = Vec::new();
    for (field, when) in dates(fact) {
        if now < when.from && !may_lie_ahead(fact, field) {
            let what = format!("{} lies ahead of now, {}", zone.write_when(when), zone.write(now));
            faults.push(Fault::new(what, field, "give the day it happened; what is planned is recorded as a plan"));
        }
    }
    if let (Some(hatched), true) = (animal.and_then(|animal| animal.hatched), is_of_a_life(fact.kind())) {
        for (field, when) in dates(fact).into_iter().filter(|(_, when)| when.to < hatched.from) {
            let what = format!("{} is before the animal hatched, {}", zone.write_when(when), zone.write_when(hatched));
            faults.push(Fault::new(what, field, "mend this date, or the date of hatching"));
        }
    }
    match (fact, animal) {
        (Fact::Animal(animal), _) => faults.extend(unanswerable(animal, None, now, zone)),
        (Fact::Override(own), Some(animal)) => {
            faults.extend(
                unanswerable(animal, Some(own.clone()), now, zone)
                    .into_iter()
                    .map(|fault| Fault::new(fault.what, "path", fault.mend)),
            );
        }
        (Fact::Override(_), None) => {
            faults.push(Fault::new(
                "an own value is about no animal yet",
                "animal",
                "name the animal for which it holds",
            ));
        }
        _ => {}
    }
    faults
}

/// An animal whose species is not known, or an own value that no profile has, would leave it without answers.
fn unanswerable(animal: &Animal, own: Option<records::facts::Override>, now: Moment, zone: &Zone) -> Vec<Fault> {
    let key = |kind| Key { kind, index: 0, line: None, id: None };
    let case = Case {
        at: None,
        zone: zone.clone(),
        animal: Entry { key: key(Kind::Animal), it: animal.clone() },
        timeline: Timeline::default(),
        enclosure: None,
        heaters: Vec::new(),
        household: None,
        freezer: Vec::new(),
        overrides: own.into_iter().map(|it| Entry { key: key(Kind::Override), it }).collect(),
    };
    crate::assess(&case, now).err().unwrap_or_default()
}

/// The dates of a record, each with its field.
fn dates(fact: &Fact) -> Vec<(&'static str, When)> {
    let some = |list: &[(&'static str, Option<When>)]| {
        list.iter().filter_map(|(field, when)| when.map(|when| (*field, when))).collect()
    };
    match fact {
        Fact::Animal(one) => {
            some(&[("hatched", one.hatched), ("arrived", one.arrived), ("complete_since", one.complete_since)])
        }
        Fact::Meal(one) => {
            some(&[("at", Some(one.at)), ("regurgitated_at", one.regurgitated_at), ("frozen_on", one.frozen_on)])
        }
        Fact::Shed(one) => some(&[
            ("dull_at", one.dull_at),
            ("blue_at", one.blue_at),
            ("cleared_at", one.cleared_at),
            ("shed_at", one.shed_at),
        ]),
        Fact::Sign(one) => some(&[("at", Some(one.at)), ("cleared_at", one.cleared_at)]),
        Fact::Power(one) => some(&[("from", Some(one.from)), ("until", one.until)]),
        Fact::Planned(one) => some(&[("from", Some(one.from)), ("until", one.until)]),
        Fact::Treatment(one) => {
            let mut all = vec![("from", one.from)];
            all.extend(one.given.iter().map(|given| ("given", *given)));
            all
        }
        Fact::Household(one) => some(&[("quarantine_from", one.quarantine_from)]),
        Fact::FreezerLot(one) => some(&[("bought", one.bought)]),
        other => some(&[("at", other.when())]),
    }
}

fn may_lie_ahead(fact: &Fact, field: &str) -> bool {
    matches!(fact, Fact::Planned(_)) || (matches!(fact, Fact::Treatment(_)) && field == "from")
}

/// Can it only have happened to an animal that lived?
fn is_of_a_life(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Weighing
            | Kind::Measurement
            | Kind::Meal
            | Kind::Shed
            | Kind::Handling
            | Kind::Sign
            | Kind::Breeding
            | Kind::Treatment
            | Kind::Dose
            | Kind::Seen
            | Kind::Ending
    )
}

/// Takes a record out of a case: the one that is about to be replaced says nothing against its successor.
pub fn leave_out(case: &mut Case, id: RecordId) {
    fn all_but<T>(list: &mut Vec<Entry<T>>, id: RecordId) {
        list.retain(|one| one.key.id != Some(id));
    }
    let line = &mut case.timeline;
    all_but(&mut line.weighings, id);
    all_but(&mut line.measurements, id);
    all_but(&mut line.meals, id);
    all_but(&mut line.sheds, id);
    all_but(&mut line.handlings, id);
    all_but(&mut line.cleanings, id);
    all_but(&mut line.readings, id);
    all_but(&mut line.signs, id);
    all_but(&mut line.breedings, id);
    all_but(&mut line.treatments, id);
    all_but(&mut line.endings, id);
}

/// What is odd about a new record but can be, as the case stands without it. Each asks for a yes.
pub fn doubts(case: &Case, fact: &Fact, now: Moment) -> Vec<Fault> {
    let mut asked = Asked { case, now, doubts: Vec::new() };
    match fact {
        Fact::Weighing(one) => asked.weighing(one),
        Fact::Meal(one) => asked.meal(one),
        Fact::Shed(one) => asked.shed(one),
        Fact::Handling(Handling { at, .. }) => asked.held(Action::Handle, "handling", *at),
        Fact::Cleaning(Cleaning { at, task: CleaningTask::Full }) => asked.held(Action::FullClean, "a full clean", *at),
        Fact::Reading(one) => asked.reading(one),
        _ => {}
    }
    asked.after_death(fact);
    asked.long_ago(fact);
    asked.doubts
}

struct Asked<'a> {
    case: &'a Case,
    now: Moment,
    doubts: Vec<Fault>,
}

impl Asked<'_> {
    fn ask(&mut self, field: &str, what: impl Into<String>) {
        self.doubts.push(Fault::new(what, field, "mend it, or say yes if it is so"));
    }

    fn date(&self, when: When) -> String {
        let date = self.case.zone.date(when.from);
        format!("{} {} {}", date.day(), month(date.month()), date.year())
    }

    fn profile(&self) -> Option<&'static Profile> {
        let library = species::library();
        match library.find(&self.case.animal.species) {
            species::Found::One(profile) => Some(profile),
            _ => self.case.animal.family.as_deref().and_then(|family| library.family_profile(family)),
        }
    }

    /// The last weighing before a record.
    fn weighed_before(&self, when: When) -> Option<&Entry<Weighing>> {
        self.case.timeline.weighings.iter().rev().find(|one| !one.estimated && one.at.from <= when.to)
    }

    fn weighing(&mut self, new: &Weighing) {
        if new.estimated {
            return;
        }
        let Some(last) = self.weighed_before(new.at).cloned() else {
            self.first_weighing(new);
            return;
        };
        if let Some(unit) = slip(new.mass_g / last.mass_g) {
            let what = format!(
                "{} against {} on {}: is it in {unit}?",
                grams(new.mass_g),
                grams(last.mass_g),
                self.date(last.at)
            );
            self.ask("mass_g", what);
            return;
        }
        let span = lines::low("entry_mass_span").value;
        let change_pct = 100.0 * (new.mass_g / last.mass_g - 1.0);
        let (down, up) = (lines::low("entry_mass_jump").value, lines::high("entry_mass_jump").value);
        let apart = new.at.from.days_since(last.at.from).abs();
        if apart <= span && (change_pct <= -down || up <= change_pct) {
            let word = if change_pct < 0.0 { "less" } else { "more" };
            let what = format!(
                "{} is {:.0} % {word} than the {} of {}, {} before",
                grams(new.mass_g),
                change_pct.abs(),
                grams(last.mass_g),
                self.date(last.at),
                days(apart)
            );
            self.ask("mass_g", what);
        }
    }

    /// Without a weighing before it, a mass is held against the whole life of the species.
    fn first_weighing(&mut self, new: &Weighing) {
        let Some(profile) = self.profile() else { return };
        let size = &profile.size;
        let adult = [&size.adult_mass_g_female, &size.adult_mass_g_male, &size.adult_mass_g_any];
        let heaviest =
            adult.into_iter().flat_map(|figures| figures.iter()).map(|figure| figure.high).fold(0.0, f64::max);
        let lightest = size.neonate_mass_g.iter().map(|figure| figure.low).fold(f64::INFINITY, f64::min);
        let slip = lines::low("mass_slip_factor").value;
        if 0.0 < heaviest && heaviest * slip < new.mass_g {
            let what = format!(
                "{} is more than twice what its kind reaches ({}): is the unit right?",
                grams(new.mass_g),
                grams(heaviest)
            );
            self.ask("mass_g", what);
        } else if lightest.is_finite() && new.mass_g < lightest / slip {
            let what = format!(
                "{} is less than half of what its kind weighs at birth ({}): is the unit right?",
                grams(new.mass_g),
                grams(lightest)
            );
            self.ask("mass_g", what);
        }
    }

    fn meal(&mut self, new: &Meal) {
        self.meal_mass(new);
        self.prey_class(new);
        let hot = lines::low("surface_real").value;
        if let Some(degrees) = new.surface_c.filter(|degrees| hot < *degrees) {
            self.ask("surface_c", format!("prey at {}: is it in °F?", celsius(degrees)));
        }
        let zone = &self.case.zone;
        let same_day = |one: &&Entry<Meal>| zone.date(one.at.from) == zone.date(new.at.from) && one.was_eaten();
        if let Some(other) = self.case.timeline.meals.iter().find(same_day).filter(|_| new.was_eaten()) {
            let what = format!("a meal taken on {} is already on record", self.date(other.at));
            self.ask("at", what);
        }
        self.held(Action::OfferMeal, "a meal", new.at);
    }

    fn meal_mass(&mut self, new: &Meal) {
        let Some(total) = new.total_g() else { return };
        let all_of_it = lines::low("entry_meal_share").value;
        if let Some(last) = self.weighed_before(new.at)
            && all_of_it * last.mass_g <= total * 100.0
        {
            let what = format!(
                "{} of prey is as much as the whole animal ({} on {})",
                grams(total),
                grams(last.mass_g),
                self.date(last.at)
            );
            self.ask("mass_g", what);
            return;
        }
        const LAST_MEALS: usize = 5;
        let eaten = self.case.timeline.meals.iter().rev().filter(|one| one.was_eaten() && one.at.from <= new.at.to);
        let mut masses: Vec<f64> = eaten.filter_map(|one| one.total_g()).take(LAST_MEALS).collect();
        masses.sort_by(f64::total_cmp);
        let usual = masses.get(masses.len() / 2).copied();
        let factor = lines::low("entry_meal_usual").value;
        if let Some(usual) = usual.filter(|usual| usual * factor < total) {
            self.ask(
                "mass_g",
                format!(
                    "{} of prey is more than {} times its usual meal ({})",
                    grams(total),
                    number(factor),
                    grams(usual)
                ),
            );
        }
    }

    fn prey_class(&mut self, new: &Meal) {
        use records::choice::Choice;
        let Some((class, mass)) = new.prey.zip(new.mass_g) else { return };
        let Some(usual) = species::library().prey_class(class.key()).and_then(|class| class.mass_g.as_ref()) else {
            return;
        };
        let factor = lines::low("entry_prey_class").value;
        if mass * factor < usual.low || usual.high * factor < mass {
            let what = format!(
                "{} is unlike a {} ({} to {})",
                grams(mass),
                class.words(),
                grams(usual.low),
                grams(usual.high)
            );
            self.ask("mass_g", what);
        }
    }

    fn shed(&mut self, new: &Shed) {
        let Some(at) = new.shed_at else { return };
        let gap = lines::low("entry_shed_gap").value;
        let others = self.case.timeline.sheds.iter().filter_map(|one| one.shed_at);
        let near = others.map(|other| (other, at.from.days_since(other.from).abs())).filter(|(_, apart)| *apart < gap);
        if let Some((other, apart)) = near.min_by(|a, b| a.1.total_cmp(&b.1)) {
            let what = if apart < 1.0 {
                format!("a shed on {} is already on record", self.date(other))
            } else {
                format!("a shed on {} is already on record, {} apart", self.date(other), days(apart))
            };
            self.ask("shed_at", what);
        }
    }

    fn reading(&mut self, new: &Reading) {
        let Some(degrees) = new.temperature_c else { return };
        let hot = lines::low("surface_real").value;
        if hot < degrees {
            let as_celsius = (degrees - 32.0) / 1.8;
            self.ask(
                "temperature_c",
                format!(
                    "{} at the {} is no place to live: is it in °F ({})?",
                    celsius(degrees),
                    spot(new.spot),
                    celsius(as_celsius)
                ),
            );
            return;
        }
        if matches!(new.spot, Spot::Room | Spot::Outdoors | Spot::ControlProbe) {
            return;
        }
        let id = match self.profile().map(|profile| profile.climate) {
            Some(Climate::Temperate) => "power_alert_temperate",
            _ => "power_alert_tropical",
        };
        const URGENT: usize = 2;
        let cold = lines::step(id, URGENT).value;
        if degrees < cold {
            self.ask(
                "temperature_c",
                format!(
                    "{} at the {} is dangerous for its kind (under {}): is the reading right?",
                    celsius(degrees),
                    spot(new.spot),
                    celsius(cold)
                ),
            );
        }
    }

    /// Was it done while it had to wait? Of a day without an hour, its end counts.
    fn held(&mut self, action: Action, doing: &str, when: When) {
        let at = when.to.min(self.now).max(when.from);
        let Ok(answer) = crate::assess(self.case, at) else { return };
        let Some(reason) = answer.hold(action).and_then(|hold| hold.because.first()) else { return };
        let what = format!("{doing} was held on {}: {}", self.date(when), reason.why);
        self.ask("at", what.trim_end_matches('.').to_owned());
    }

    fn after_death(&mut self, fact: &Fact) {
        let died =
            self.case.timeline.endings.last().filter(|ending| ending.what == EndingWhat::Died).map(|ending| ending.at);
        let Some((died, when)) = died.zip(fact.when()) else { return };
        if is_of_a_life(fact.kind()) && fact.kind() != Kind::Ending && died.to <= when.from {
            let what = format!("the animal died on {}, before that", self.date(died));
            self.ask("at", what);
        }
    }

    fn long_ago(&mut self, fact: &Fact) {
        let kind = fact.kind();
        let line = lines::low("entry_long_ago").value;
        let undated = matches!(kind, Kind::Animal | Kind::Stay | Kind::FreezerLot);
        if let Some(when) = fact.when().filter(|when| !undated && line < self.now.days_since(when.to)) {
            let what = format!("{} is more than a year back", self.case.zone.write_when(when));
            self.ask("at", what);
        }
    }
}

/// The unit that explains a ratio of two masses, where one does.
fn slip(ratio: f64) -> Option<&'static str> {
    const NEAR: f64 = 0.2;
    let is_near = |factor: f64| (ratio * factor / (1.0 + NEAR) < 1.0) && (1.0 < ratio * factor * (1.0 + NEAR));
    [("kg", 1000.0), ("lb", GRAMS_PER_POUND), ("oz", GRAMS_PER_OUNCE)]
        .into_iter()
        .find(|(_, factor)| is_near(*factor))
        .map(|(unit, _)| unit)
}

fn spot(spot: Spot) -> String {
    use records::choice::Choice;
    spot.words()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{case, moment};
    use records::Raw;
    use records::choice::Choice;
    use records::fields::{Given, Reader};

    const NOW: &str = "2027-05-20T20:00";

    /// A fact from its fields: «at=2027-05-20, mass_g=24».
    fn fact(kind: Kind, text: &str) -> Fact {
        let pairs = text
            .split(", ")
            .map(|pair| pair.split_once('=').unwrap())
            .map(|(key, value)| (key.to_owned(), Raw::Text(value.to_owned())));
        let given = Given { pairs: pairs.collect(), origin: kind.words() };
        let zone = Zone::none();
        let mut reader = Reader::new(&given, &zone);
        let fact = Fact::read(kind, &mut reader);
        let faults = reader.finish();
        fact.unwrap_or_else(|| panic!("{faults:?}"))
    }

    fn asked(case_text: &str, kind: Kind, text: &str) -> Vec<String> {
        let case = case(&format!("[animal]\nspecies = \"corn_snake\"\nstage = \"adult\"\n{case_text}"));
        doubts(&case, &fact(kind, text), moment(NOW)).into_iter().map(|fault| fault.what).collect()
    }

    const WEIGHED: &str = "[[weighing]]\nat = \"2027-05-01\"\nmass_g = 500\n";

    #[test]
    fn a_date_that_lies_ahead_is_refused_and_a_plan_is_not() {
        let zone = Zone::none();
        for (kind, text, refused) in [
            (Kind::Weighing, "at=2027-05-20T20:01, mass_g=24", true),
            (Kind::Weighing, "at=2027-05-20T20:00, mass_g=24", false),
            (Kind::Weighing, "at=2027-05-20, mass_g=24", false),
            (Kind::Weighing, "at=2027-05-21, mass_g=24", true),
            (Kind::Shed, "blue_at=2027-05-18, shed_at=2027-05-22", true),
            (Kind::Planned, "from=2027-07-01, what=keeper-away", false),
            (Kind::Treatment, "name=ointment, from=2027-05-22", false),
        ] {
            let faults = refusals(None, &fact(kind, text), moment(NOW), &zone);
            assert_eq!(!faults.is_empty(), refused, "{kind} {text}: {faults:?}");
        }
    }

    #[test]
    fn nothing_happens_to_an_animal_before_it_hatched() {
        let zone = Zone::none();
        let case = case("[animal]\nspecies = \"corn_snake\"\nhatched = \"2027-03\"\n");
        for (text, refused) in [("at=2027-02-27, mass_g=8", true), ("at=2027-03-01, mass_g=8", false)] {
            let faults = refusals(Some(&case.animal), &fact(Kind::Weighing, text), moment(NOW), &zone);
            assert_eq!(!faults.is_empty(), refused, "{text}");
        }
    }

    #[test]
    fn an_animal_that_nothing_could_be_said_about_is_refused() {
        let zone = Zone::none();
        for (text, refused) in [
            ("species=corn snake", false),
            ("species=Nowhere snake", true),
            ("species=Nowhere snake, family=Colubridae", false),
        ] {
            let faults = refusals(None, &fact(Kind::Animal, text), moment(NOW), &zone);
            assert_eq!(!faults.is_empty(), refused, "{text}: {faults:?}");
        }
    }

    #[test]
    fn a_value_that_no_profile_has_is_refused() {
        let zone = Zone::none();
        let case = case("[animal]\nspecies = \"corn_snake\"\n");
        for (text, refused) in [
            ("path=temperature.night_min_c, low=19, reason=the veterinarian said so", false),
            ("path=temperature.night, low=19, reason=the veterinarian said so", true),
        ] {
            let faults = refusals(Some(&case.animal), &fact(Kind::Override, text), moment(NOW), &zone);
            assert_eq!(!faults.is_empty(), refused, "{text}");
        }
    }

    #[test]
    fn a_meal_as_heavy_as_the_animal_is_asked_about() {
        for (text, is_asked) in [
            ("at=2027-05-20T19:00, mass_g=499, outcome=taken", false),
            ("at=2027-05-20T19:00, mass_g=500, outcome=taken", true),
            ("at=2027-05-20T19:00, mass_g=250, count=2, outcome=taken", true),
        ] {
            assert_eq!(
                asked(WEIGHED, Kind::Meal, text).iter().any(|one| one.contains("whole animal")),
                is_asked,
                "{text}"
            );
        }
    }

    #[test]
    fn a_meal_of_more_than_twice_the_usual_is_asked_about() {
        let meals: String = (1..6)
            .map(|month| format!("[[meal]]\nat = \"2027-{month:02}-03\"\nmass_g = 20\noutcome = \"taken\"\n"))
            .collect();
        for (mass, is_asked) in [(40.0, false), (40.1, true)] {
            let text = format!("at=2027-05-20T19:00, mass_g={mass}, outcome=taken");
            assert_eq!(
                asked(&meals, Kind::Meal, &text).iter().any(|one| one.contains("usual meal")),
                is_asked,
                "{mass} g"
            );
        }
    }

    #[test]
    fn prey_unlike_its_class_is_asked_about() {
        let of = |mass: &str| {
            asked("", Kind::Meal, &format!("at=2027-05-20T19:00, prey=mouse-pinky, mass_g={mass}, outcome=taken"))
        };
        assert!(of("1.5").is_empty(), "{:?}", of("1.5"));
        assert_eq!(of("24").len(), 1);
    }

    #[test]
    fn a_meal_in_the_days_after_the_last_came_up_is_asked_about() {
        let up = "[[meal]]\nat = \"2027-05-17\"\nmass_g = 20\noutcome = \"regurgitated\"\nregurgitated_at = \"2027-05-18\"\n";
        let about = asked(up, Kind::Meal, "at=2027-05-20T19:00, mass_g=20, outcome=taken");
        assert!(about.iter().any(|one| one.starts_with("a meal was held on 20 May 2027")), "{about:?}");
    }

    #[test]
    fn handling_just_after_a_meal_is_asked_about() {
        let fed = "[[meal]]\nat = \"2027-05-19T20:00\"\nmass_g = 20\noutcome = \"taken\"\n";
        assert_eq!(asked(fed, Kind::Handling, "at=2027-05-20T19:00, minutes=10").len(), 1);
        assert!(asked("", Kind::Handling, "at=2027-05-20T19:00, minutes=10").is_empty());
    }

    #[test]
    fn masses_that_a_wrong_unit_explains_are_asked_about_as_such() {
        for (mass, word) in [("17.6", "oz"), ("1.1", "lb"), ("0.5", "kg"), ("390", "less"), ("701", "more")] {
            let about = asked(WEIGHED, Kind::Weighing, &format!("at=2027-05-20, mass_g={mass}"));
            assert!(about.len() == 1 && about[0].contains(word), "{mass}: {about:?}");
        }
        assert!(asked(WEIGHED, Kind::Weighing, "at=2027-05-20, mass_g=480").is_empty());
        // 300 to 900 g grown, about 6 g at birth.
        for (mass, is_asked) in [("1900", true), ("1700", false), ("2", true), ("4", false)] {
            assert_eq!(
                !asked("", Kind::Weighing, &format!("at=2027-05-20, mass_g={mass}")).is_empty(),
                is_asked,
                "{mass}"
            );
        }
    }

    #[test]
    fn a_shed_soon_after_the_last_is_asked_about() {
        let shed = "[[shed]]\nshed_at = \"2027-05-10\"\n";
        for (day, is_asked) in [("2027-05-10", true), ("2027-05-19", true), ("2027-05-20", false)] {
            assert_eq!(!asked(shed, Kind::Shed, &format!("shed_at={day}")).is_empty(), is_asked, "{day}");
        }
    }

    #[test]
    fn a_reading_that_looks_like_another_unit_is_asked_about() {
        for (spot, degrees, is_asked) in [
            ("warm-surface", "88", true),
            ("warm-surface", "50", false),
            ("warm-surface", "4.9", true),
            ("warm-surface", "5", false),
            ("outdoors", "-3", false),
        ] {
            let about = asked("", Kind::Reading, &format!("at=2027-05-20T19:00, spot={spot}, temperature_c={degrees}"));
            assert_eq!(!about.is_empty(), is_asked, "{degrees} at {spot}: {about:?}");
        }
    }

    #[test]
    fn what_happened_more_than_a_year_ago_is_asked_about() {
        for (day, is_asked) in [("2026-05-18", true), ("2026-05-20", false)] {
            assert_eq!(!asked("", Kind::Handling, &format!("at={day}, minutes=5")).is_empty(), is_asked, "{day}");
        }
    }

    #[test]
    fn a_record_that_is_replaced_says_nothing_against_its_successor() {
        let mut case = case(
            "[animal]\nspecies = \"corn_snake\"\n[[meal]]\nat = \"2027-05-20\"\nmass_g = 20\noutcome = \"taken\"\n",
        );
        let id = RecordId::read("01890000-0000-7000-8000-000000000001").unwrap();
        case.timeline.meals[0].key.id = Some(id);
        let again = fact(Kind::Meal, "at=2027-05-20, mass_g=22, outcome=taken");
        assert!(!doubts(&case, &again, moment(NOW)).is_empty());
        leave_out(&mut case, id);
        assert!(doubts(&case, &again, moment(NOW)).is_empty());
    }
}
