//! Numbers, dates and choices as words.
//!
//! What a page or the terminal shows is worded here once: the unit beside the number, a date as a person says it from
//! where they stand, a class of prey as it is sold. Nothing is judged and nothing is reckoned but the rounding.

use jiff::civil::Date;
use records::choice::Choice;
use records::facts::{
    BreedingWhat, CleaningTask, EndingWhat, Fact, HeaterKind, Kind, Lid, Means, Outcome, PlannedWhat, Prey, Probe,
    Retained, Sex, Spot, Stage, Stand, Thermostat,
};
use units::{Moment, Precision, When, Zone};

use care::answer::{Action, Missing, Severity, State, Task};

/// A space that does not break: between a number and its unit.
pub const STAY: char = '\u{a0}';

const DAYS: [&str; 7] = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// The name of a day of the week.
pub fn weekday(date: Date) -> &'static str {
    let index = usize::from(date.weekday().to_monday_zero_offset().unsigned_abs());
    DAYS.get(index).copied().unwrap_or_default()
}

/// The name of a month.
pub fn month(date: Date) -> &'static str {
    MONTHS.get(usize::from(date.month().unsigned_abs()).wrapping_sub(1)).copied().unwrap_or_default()
}

/// The first three letters of a month.
pub fn month_short(date: Date) -> &'static str {
    month(date).get(..3).unwrap_or_default()
}

/// Dates as they read from a moment in a zone.
#[derive(Clone, Debug)]
pub struct Clock {
    zone: Zone,
    now: Moment,
}

impl Clock {
    /// Dates in `zone` as they read at `now`.
    pub fn new(zone: &Zone, now: Moment) -> Clock {
        Clock { zone: zone.clone(), now }
    }

    /// The zone.
    pub fn zone(&self) -> &Zone {
        &self.zone
    }

    /// The moment from which dates are seen.
    pub fn now(&self) -> Moment {
        self.now
    }

    fn today(&self) -> Date {
        self.zone.date(self.now)
    }

    /// «morning», «afternoon», «evening», «night» or «before dawn».
    pub fn part_of_day(&self) -> &'static str {
        match self.zone.clock(self.now).hour() {
            5..=11 => "morning",
            12..=16 => "afternoon",
            17..=21 => "evening",
            22..=23 => "night",
            _ => "before dawn",
        }
    }

    /// «14 March», with the year where it is another one.
    pub fn date(&self, date: Date) -> String {
        let year = if date.year() == self.today().year() { String::new() } else { format!(" {}", date.year()) };
        format!("{}{STAY}{}{year}", date.day(), month(date))
    }

    /// «Saturday 14 March», with the year where it is another one.
    pub fn long_date(&self, date: Date) -> String {
        format!("{} {}", weekday(date), self.date(date))
    }

    /// A day as said from today: «today», «yesterday», «Saturday» in the coming six days, else «14 March».
    pub fn near_date(&self, date: Date) -> String {
        match self.today().until(date).map_or(i32::MAX, |span| span.get_days()) {
            0 => "today".into(),
            1 => "tomorrow".into(),
            -1 => "yesterday".into(),
            2..=6 => weekday(date).into(),
            _ => self.date(date),
        }
    }

    /// «19:30».
    pub fn time(&self, moment: Moment) -> String {
        let clock = self.zone.clock(moment);
        format!("{:02}:{:02}", clock.hour(), clock.minute())
    }

    /// The hour alone today, with its day otherwise: «19:30», «tomorrow 06:15».
    pub fn hour(&self, moment: Moment) -> String {
        let is_today = self.zone.date(moment) == self.today();
        if is_today { self.time(moment) } else { format!("{} {}", self.day(moment), self.time(moment)) }
    }

    /// A moment as said from now: «today 19:30»; without the hour when it is midnight.
    pub fn moment(&self, moment: Moment) -> String {
        let day = self.near_date(self.zone.date(moment));
        if self.zone.day_start(moment) == moment { day } else { format!("{day} {}", self.time(moment)) }
    }

    /// The day of a moment, as said from today.
    pub fn day(&self, moment: Moment) -> String {
        self.near_date(self.zone.date(moment))
    }

    /// When something happened, as precisely as it is known.
    pub fn when(&self, when: When) -> String {
        let date = self.zone.date(when.from);
        match when.precision {
            Precision::Minute => format!("{} {}", self.near_date(date), self.time(when.from)),
            Precision::Day => self.near_date(date),
            Precision::Month => format!("{}{STAY}{}", month(date), date.year()),
            Precision::Year => date.year().to_string(),
        }
    }

    /// When something happened, as in a table: «14 Mar 2026 19:30».
    pub fn in_table(&self, when: When) -> String {
        let date = self.zone.date(when.from);
        match when.precision {
            Precision::Minute => format!("{} {}", short_date(date), self.time(when.from)),
            Precision::Day => short_date(date),
            Precision::Month => format!("{}{STAY}{}", month_short(date), date.year()),
            Precision::Year => date.year().to_string(),
        }
    }

    /// A range of days: «Saturday to Tuesday», «14 to 19 March», «14 March to 2 April».
    pub fn days(&self, low: Moment, high: Moment) -> String {
        let (from, to) = (self.zone.date(low), self.zone.date(high));
        let (mut first, last) = (self.near_date(from), self.near_date(to));
        // A day of the week and a date do not go together.
        if last.contains(STAY) && DAYS.contains(&first.as_str()) {
            first = self.date(from);
        }
        if first == last {
            first
        } else if from.month() == to.month() && first.contains(STAY) && last.contains(STAY) {
            format!("{} to {last}", from.day())
        } else {
            format!("{first} to {last}")
        }
    }

    /// How long ago a moment was, or how far off it is, in days of the calendar: «today», «3 days ago», «in 5 days».
    pub fn ago(&self, moment: Moment) -> String {
        let days = self.zone.date(moment).until(self.today()).map_or(0, |span| span.get_days());
        match days {
            0 => "today".into(),
            1 => "yesterday".into(),
            -1 => "tomorrow".into(),
            days if days < 0 => format!("in {} days", -days),
            days => format!("{days} days ago"),
        }
    }
}

/// «14 Mar 2026».
pub fn short_date(date: Date) -> String {
    format!("{}{STAY}{}{STAY}{}", date.day(), month_short(date), date.year())
}

/// A number with at most `digits` decimals and no idle zeros.
pub fn number(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    let text = if text == "-0" { "0" } else { text };
    match text.strip_prefix('-') {
        Some(rest) => format!("\u{2212}{rest}"),
        None => text.to_owned(),
    }
}

fn grams_digits(grams: f64) -> usize {
    if grams < 20.0 { 1 } else { 0 }
}

/// A mass: «9.5 g», «684 g», «1.31 kg».
pub fn mass(grams: f64) -> String {
    if grams < 1_000.0 {
        format!("{}{STAY}g", number(grams, grams_digits(grams)))
    } else {
        format!("{}{STAY}kg", number(grams / 1_000.0, if grams < 10_000.0 { 2 } else { 1 }))
    }
}

/// A range of masses: «34–41 g».
pub fn masses(low: f64, high: f64) -> String {
    if high < 1_000.0 {
        let digits = grams_digits(low);
        let (from, to) = (number(low, digits), number(high, digits));
        if from == to { format!("{from}{STAY}g") } else { format!("{from}–{to}{STAY}g") }
    } else {
        let (from, to) = (number(low / 1_000.0, 2), number(high / 1_000.0, 2));
        if from == to { format!("{from}{STAY}kg") } else { format!("{from}–{to}{STAY}kg") }
    }
}

/// A length: «48 cm», «1.42 m» from a metre up.
pub fn length(centimetres: f64) -> String {
    if centimetres < 100.0 {
        format!("{}{STAY}cm", number(centimetres, 1))
    } else {
        format!("{}{STAY}m", number(centimetres / 100.0, 2))
    }
}

/// A thickness: «4 mm».
pub fn millimetres(mm: f64) -> String {
    format!("{}{STAY}mm", number(mm, 1))
}

/// A temperature: «32.1 °C».
pub fn celsius(degrees: f64) -> String {
    format!("{}{STAY}°C", number(degrees, 1))
}

/// A share: «61 %».
pub fn percent(value: f64) -> String {
    format!("{}{STAY}%", number(value, 0))
}

/// A value or a range with its unit: «31–33 °C».
pub fn range(low: f64, high: f64, unit: &str) -> String {
    let digits = if unit == "g" { grams_digits(low) } else { 2 };
    let (from, to) = (number(low, digits), number(high, digits));
    let values = if from == to { from } else { format!("{from}–{to}") };
    if unit.is_empty() { values } else { format!("{values}{STAY}{unit}") }
}

/// A sentence in which a degree stays with its number, whoever wrote it.
pub fn kept(text: &str) -> String {
    text.replace(" °C", &format!("{STAY}°C"))
}

/// «one», «two» ... in running text; digits from ten on.
pub fn count(number: usize) -> String {
    const WORDS: [&str; 10] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    WORDS.get(number).map_or_else(|| number.to_string(), |word| (*word).to_owned())
}

/// «1 meal», «3 meals».
pub fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{} {}", count(number), if number == 1 { one } else { many })
}

/// A list in running text: «a», «a and b», «a, b and c».
pub fn listed<S: AsRef<str>>(items: &[S]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [rest @ .., last] => {
            let rest: Vec<&str> = rest.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", rest.join(", "), last.as_ref())
        }
    }
}

/// Names in running text, or how many there are where they would fill the page.
pub fn names_or_count<S: AsRef<str>>(names: &[S]) -> String {
    const FEW: usize = 10;
    if names.len() <= FEW { listed(names) } else { format!("{} animals", names.len()) }
}

/// The same with a capital at its start.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// A class of prey as one says it: «weaned rat».
pub fn prey(prey: Prey) -> &'static str {
    care::rules::prey::names(prey).0
}

/// So many of a class of prey: «2 weaned rats».
pub fn prey_counted(key: &str, number: u32) -> String {
    match Prey::from_key(key) {
        Some(class) => {
            let (one, many) = care::rules::prey::names(class);
            format!("{number} {}", if number == 1 { one } else { many })
        }
        None => format!("{number} of no settled class"),
    }
}

/// An evening of thawing in one sentence: «Out of the freezer from 18:25 on, offered at 20:00.»
pub fn evening(timetable: &care::thaw::Timetable, clock: &Clock) -> String {
    let first = timetable.planned.iter().map(|planned| planned.take_out).min().unwrap_or(timetable.feed_at);
    format!("Out of the freezer from {} on, offered at {}.", clock.hour(first), clock.hour(timetable.feed_at))
}

/// A stage of life.
pub fn stage(stage: Stage) -> &'static str {
    stage.key()
}

/// A sex, where it is told.
pub fn sex(sex: Sex) -> &'static str {
    match sex {
        Sex::Female => "female",
        Sex::Male => "male",
        Sex::Unknown => "sex unknown",
    }
}

/// What became of a meal.
pub fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Taken => "taken",
        Outcome::Refused => "refused",
        Outcome::Left => "left lying",
        Outcome::Unseen => "gone, not seen eaten",
        Outcome::Regurgitated => "brought up again",
    }
}

/// A spot in the enclosure.
pub fn spot(spot: Spot) -> &'static str {
    match spot {
        Spot::WarmSurface => "warm surface",
        Spot::WarmAir => "warm air",
        Spot::CoolSurface => "cool surface",
        Spot::CoolAir => "cool air",
        Spot::Hide => "hide",
        Spot::HumidHide => "humid hide",
        Spot::Water => "water",
        Spot::Room => "room",
        Spot::Outdoors => "outdoors",
        Spot::ControlProbe => "thermostat probe",
    }
}

/// A chore.
pub fn chore(task: CleaningTask) -> &'static str {
    match task {
        CleaningTask::Water => "fresh water",
        CleaningTask::Spot => "spot clean",
        CleaningTask::Full => "full clean",
    }
}

/// A chore, as what was done.
pub fn chore_done(task: CleaningTask) -> &'static str {
    match task {
        CleaningTask::Water => "Water changed",
        CleaningTask::Spot => "Spot cleaned",
        CleaningTask::Full => "Fully cleaned",
    }
}

/// A plan.
pub fn plan(what: PlannedWhat) -> &'static str {
    match what {
        PlannedWhat::KeeperAway => "keeper away",
        PlannedWhat::AnimalAway => "animal away",
        PlannedWhat::Transport => "journey",
        PlannedWhat::MovingHouse => "moving house",
        PlannedWhat::Show => "show",
        PlannedWhat::Visit => "visit",
        PlannedWhat::EnclosureChange => "change of enclosure",
        PlannedWhat::Brumation => "winter rest",
        PlannedWhat::VetVisit => "veterinary visit",
    }
}

/// How a stay ended.
pub fn ending(what: EndingWhat) -> &'static str {
    match what {
        EndingWhat::Sold => "sold",
        EndingWhat::Given => "given away",
        EndingWhat::Lent => "lent",
        EndingWhat::Returned => "back from a loan",
        EndingWhat::Died => "died",
    }
}

/// A kind of heater.
pub fn heater(kind: HeaterKind) -> &'static str {
    match kind {
        HeaterKind::Mat => "heat mat",
        HeaterKind::Cable => "heating cable",
        HeaterKind::Ceramic => "ceramic emitter",
        HeaterKind::Panel => "radiant panel",
        HeaterKind::Lamp => "heat lamp",
        HeaterKind::Rock => "heated stone",
        HeaterKind::Room => "room heating",
        HeaterKind::Other => "other heater",
    }
}

/// A kind of thermostat.
pub fn thermostat(kind: Thermostat) -> &'static str {
    match kind {
        Thermostat::None => "no thermostat",
        Thermostat::OnOff => "on-off thermostat",
        Thermostat::Pulse => "pulse thermostat",
        Thermostat::Dimming => "dimming thermostat",
    }
}

/// A lid.
pub fn lid(lid: Lid) -> &'static str {
    match lid {
        Lid::Solid => "solid",
        Lid::Mesh => "mesh",
        Lid::PartMesh => "part mesh",
    }
}

/// What an enclosure stands on.
pub fn stand(stand: Stand) -> &'static str {
    match stand {
        Stand::Shelf => "a shelf or table",
        Stand::Foam => "foam",
        Stand::Other => "something else",
    }
}

/// Where a probe lies.
pub fn probe(probe: Probe) -> &'static str {
    match probe {
        Probe::At(at) => spot(at),
        Probe::BetweenMatAndFloor => "between mat and floor",
        Probe::Loose => "loose",
        Probe::Outside => "outside the enclosure",
    }
}

/// A kind of record, as a heading.
pub fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Animal => "Animal",
        Kind::Enclosure => "Enclosure",
        Kind::Household => "Household",
        Kind::Heater => "Heater",
        Kind::Stay => "Moved in",
        Kind::Ending => "End of stay",
        Kind::Weighing => "Weight",
        Kind::Measurement => "Length",
        Kind::Meal => "Meal",
        Kind::Shed => "Shed",
        Kind::Handling => "Handling",
        Kind::Cleaning => "Chore",
        Kind::Reading => "Reading",
        Kind::Sign => "Sign",
        Kind::Breeding => "Breeding",
        Kind::Power => "Power cut",
        Kind::Treatment => "Treatment",
        Kind::Dose => "Dose given",
        Kind::Planned => "Plan",
        Kind::Seen => "Seen",
        Kind::Note => "Note",
        Kind::FreezerLot => "Frozen prey",
        Kind::Override => "Own value",
        Kind::Fitted => "Log",
    }
}

/// A task, as a heading of its row.
pub fn task(task: Task) -> &'static str {
    match task {
        Task::OfferMeal => "Offer a meal",
        Task::ChangeWater => "Fresh water",
        Task::SpotClean => "Spot clean",
        Task::FullClean => "Full clean",
        Task::Weigh => "Weigh",
        Task::Measure => "Measure the length",
        Task::CheckClimate => "Read the thermometers",
        Task::CheckShed => "Look at the shed",
        Task::Handle => "Handle",
        Task::QuarantineCheck => "Quarantine check",
        Task::FaecalTest => "Take a faecal sample to be tested",
        Task::ThermostatTest => "Test the thermostat",
        Task::LampChange => "Change the lamp",
        Task::GiveTreatment => "Give what was prescribed",
        Task::Isolate => "Keep it apart from the others",
        Task::Restock => "Buy frozen prey",
        Task::PreyStepUp => "Go up one class of prey",
        Task::EnclosureStepUp => "Prepare a larger enclosure",
        Task::VetVisit => "Call a reptile veterinarian",
        Task::LicenceRenewal => "Renew the licence",
    }
}

/// What must not be done while an action is held.
pub fn held(action: Action) -> &'static str {
    match action {
        Action::OfferMeal => "no meal",
        Action::Handle => "no handling",
        Action::Move => "no lifting out",
        Action::FullClean => "no full clean",
    }
}

/// What is allowed again when a hold ends.
pub fn free_again(action: Action) -> &'static str {
    match action {
        Action::OfferMeal => "meals",
        Action::Handle => "handling",
        Action::Move => "lifting out",
        Action::FullClean => "a full clean",
    }
}

/// A state, as said of the animal.
pub fn state(state: State) -> &'static str {
    match state {
        State::Settling => "settling in",
        State::Quarantine => "in quarantine",
        State::Digesting => "digesting",
        State::InShed => "in shed",
        State::Fasting => "fasting",
        State::AfterRegurgitation => "recovering after bringing up a meal",
        State::Brumating => "in winter rest",
        State::Gravid => "gravid",
        State::UnderTreatment => "under treatment",
        State::Away => "away",
    }
}

/// How much a finding matters, in front of it.
pub fn severity(severity: Severity) -> &'static str {
    match severity {
        Severity::Note => "Good to know",
        Severity::Watch => "Keep an eye on it",
        Severity::Act => "See to it today",
        Severity::Vet => "Call a reptile veterinarian",
        Severity::Urgent => "Now",
    }
}

/// What is not known, as a question that the keeper can answer.
pub fn missing(what: Missing) -> &'static str {
    match what {
        Missing::Species => "which species it is",
        Missing::Age => "when it hatched, even only the year",
        Missing::Sex => "its sex",
        Missing::Mass => "its weight",
        Missing::MassHistory => "a second weighing, some weeks apart",
        Missing::Length => "its length",
        Missing::Girth => "its girth at the widest part",
        Missing::Meals => "its last meal",
        Missing::Sheds => "its last shed",
        Missing::WarmSurfaceTemperature => "the temperature of the warm surface",
        Missing::WarmAirTemperature => "the temperature of the air at the warm end",
        Missing::CoolTemperature => "the temperature at the cool end",
        Missing::NightTemperature => "the coldest temperature of a night",
        Missing::Humidity => "the humidity",
        Missing::EnclosureSize => "the size of its enclosure",
        Missing::Lid => "what covers the enclosure",
        Missing::Heater => "what heats it",
        Missing::Thermostat => "whether a thermostat holds the heat",
        Missing::LastSeen => "when it was last seen",
    }
}

/// Which kind of record would tell what is missing; `None` where it is told of the animal itself.
pub fn missing_kind(what: Missing) -> Kind {
    match what {
        Missing::Species | Missing::Age | Missing::Sex => Kind::Animal,
        Missing::Mass | Missing::MassHistory => Kind::Weighing,
        Missing::Length | Missing::Girth => Kind::Measurement,
        Missing::Meals => Kind::Meal,
        Missing::Sheds => Kind::Shed,
        Missing::WarmSurfaceTemperature
        | Missing::WarmAirTemperature
        | Missing::CoolTemperature
        | Missing::NightTemperature
        | Missing::Humidity => Kind::Reading,
        Missing::EnclosureSize | Missing::Lid => Kind::Enclosure,
        Missing::Heater | Missing::Thermostat => Kind::Heater,
        Missing::LastSeen => Kind::Seen,
    }
}

/// Where a place for retained skin is.
pub fn retained(place: Retained) -> &'static str {
    match place {
        Retained::LeftEyeCap => "left eye cap",
        Retained::RightEyeCap => "right eye cap",
        Retained::TailTip => "tail tip",
        Retained::Body => "body",
    }
}

fn breeding(what: BreedingWhat) -> &'static str {
    match what {
        BreedingWhat::Paired => "paired",
        BreedingWhat::Gravid => "seen gravid",
        BreedingWhat::Laid => "eggs laid",
        BreedingWhat::Born => "young born",
    }
}

fn yes_no(text: &mut Vec<String>, flag: Option<bool>, yes: &str, no: &str) {
    let word = flag.map(|flag| if flag { yes } else { no }).filter(|word| !word.is_empty());
    text.extend(word.map(str::to_owned));
}

/// What a record says, in one line.
pub fn fact(fact: &Fact, clock: &Clock) -> String {
    let mut text: Vec<String> = Vec::new();
    match fact {
        Fact::Animal(it) => {
            text.extend(it.name.clone());
            text.push(it.species.clone());
            text.extend(it.sex.map(|one| sex(one).to_owned()));
            text.extend(it.hatched.map(|when| format!("hatched {}", clock.when(when))));
            text.extend(it.arrived.map(|when| format!("arrived {}", clock.when(when))));
        }
        Fact::Enclosure(it) => {
            text.extend(it.name.clone());
            text.extend(it.room.clone());
            text.extend(size(it.length_cm, it.width_cm, it.height_cm));
            text.extend(it.material.clone());
            text.extend(it.thickness_mm.map(|mm| format!("walls of {}", millimetres(mm))));
            text.extend(it.lid.map(|one| format!("{} lid", lid(one))));
            text.extend(it.lid_covered_pct.map(|share| format!("{} of the lid covered", percent(share))));
            text.extend(it.stands_on.filter(|one| *one != Stand::Other).map(|one| format!("on {}", stand(one))));
            text.extend(it.substrate.clone());
            text.extend(it.substrate_cm.map(|cm| format!("substrate {} deep", length(cm))));
            text.extend(it.bowl_cm.map(|cm| format!("water bowl {} wide", length(cm))));
            yes_no(&mut text, it.floor_wet, "the floor is wet", "");
            yes_no(&mut text, it.gaps, "it has gaps", "");
            yes_no(&mut text, it.locks, "", "does not lock");
        }
        Fact::Household(it) => {
            yes_no(&mut text, it.other_reptiles, "other reptiles in the house", "no other reptiles in the house");
            yes_no(&mut text, it.young_children, "young children or others at risk", "nobody at special risk");
            yes_no(&mut text, it.contacts_sick, "a neighbour is sick or has died", "");
            text.extend(it.region.clone());
            text.extend(it.room_c.map(|degrees| format!("room at {}", celsius(degrees))));
            text.extend(it.room_night_c.map(|degrees| format!("at {} by night", celsius(degrees))));
            text.extend(it.room_winter_c.map(|degrees| format!("at {} on the coldest days", celsius(degrees))));
            text.extend(it.room_summer_c.map(|degrees| format!("at {} on the warmest", celsius(degrees))));
            text.extend(it.room_pct.map(|share| format!("humidity of the room {}", percent(share))));
            text.extend(it.quarantine_from.map(|when| format!("quarantine since {}", clock.when(when))));
        }
        Fact::Heater(it) => {
            text.push(heater(it.kind).to_owned());
            text.extend(it.watts.map(|watts| format!("{}{STAY}W", number(watts, 0))));
            text.extend(it.thermostat.map(|one| thermostat(one).to_owned()));
            text.extend(it.set_c.map(|degrees| format!("set to {}", celsius(degrees))));
            text.extend(it.night_set_c.map(|degrees| format!("by night to {}", celsius(degrees))));
            yes_no(&mut text, it.guarded, "guarded", "not guarded");
            text.extend(it.probe.map(|one| format!("probe: {}", probe(one))));
        }
        Fact::Stay(_) => text.push("into this enclosure".to_owned()),
        Fact::Ending(it) => {
            text.push(ending(it.what).to_owned());
            text.extend(it.note.clone());
        }
        Fact::Weighing(it) => {
            text.push(mass(it.mass_g));
            yes_no(&mut text, Some(it.estimated), "estimated", "");
            text.extend(it.body_score.map(|score| format!("body score {score} of 9")));
        }
        Fact::Measurement(it) => {
            text.extend(it.total_length_cm.map(|cm| format!("{} long", length(cm))));
            text.extend(it.snout_vent_cm.map(|cm| format!("{} from snout to vent", length(cm))));
            text.extend(it.girth_cm.map(|cm| format!("{} around", length(cm))));
        }
        Fact::Meal(it) => {
            let class = it.prey.map_or("prey", prey);
            text.push(if it.count == 1 {
                class.to_owned()
            } else {
                it.prey.map_or_else(|| format!("{} items of prey", it.count), |one| prey_counted(one.key(), it.count))
            });
            text.extend(it.mass_g.map(
                |grams| {
                    if it.count == 1 { mass(grams) } else { format!("{} each", mass(grams)) }
                },
            ));
            text.push(outcome(it.outcome).to_owned());
            text.extend(it.regurgitated_at.map(|when| format!("up again {}", clock.when(when))));
            text.extend(it.state.map(Choice::words));
            text.extend(it.surface_c.map(|degrees| format!("offered at {}", celsius(degrees))));
            text.extend(it.minutes_left.map(|minutes| format!("left {}{STAY}min", number(minutes, 0))));
            text.extend(it.thawed.map(|way| format!("thawed: {}", way.words())));
            text.extend(it.frozen_on.map(|when| format!("frozen {}", clock.when(when))));
            yes_no(&mut text, Some(it.refrozen), "had been thawed before", "");
        }
        Fact::Shed(it) => {
            let steps = [("dull", it.dull_at), ("blue", it.blue_at), ("cleared", it.cleared_at), ("off", it.shed_at)];
            text.extend(
                steps.into_iter().filter_map(|(step, when)| when.map(|when| format!("{step} {}", clock.when(when)))),
            );
            text.extend(
                it.pieces.map(
                    |pieces| {
                        if pieces == 1 { "in one piece".to_owned() } else { format!("in {pieces} pieces") }
                    },
                ),
            );
            if !it.retained.is_empty() {
                let places: Vec<&str> = it.retained.iter().map(|place| retained(*place)).collect();
                text.push(format!("stayed on: {}", listed(&places)));
            }
        }
        Fact::Handling(it) => {
            text.push(it.minutes.map_or("handled".to_owned(), |minutes| format!("{}{STAY}min", number(minutes, 0))));
        }
        Fact::Cleaning(it) => text.push(chore(it.task).to_owned()),
        Fact::Reading(it) => {
            text.push(spot(it.spot).to_owned());
            text.extend(it.temperature_c.map(celsius));
            text.extend(it.humidity_pct.map(percent));
            text.extend((it.means != Means::SpotCheck).then(|| it.means.words()));
            text.extend(it.hours.map(|hours| format!("over {}{STAY}h", number(hours, 1))));
            text.extend(it.period.map(|period| format!("by {}", period.words())));
        }
        Fact::Sign(it) => {
            text.push(it.sign.words());
            text.extend(it.grade.map(Choice::words));
            text.extend(it.cleared_at.map(|when| format!("gone {}", clock.when(when))));
            text.extend(it.note.clone());
        }
        Fact::Breeding(it) => {
            text.push(breeding(it.what).to_owned());
            text.extend(it.count.map(|count| count.to_string()));
        }
        Fact::Power(it) => {
            text.push(format!("out {}", clock.when(it.from)));
            text.push(it.until.map_or("not back yet".to_owned(), |when| format!("back {}", clock.when(when))));
        }
        Fact::Treatment(it) => {
            text.push(it.name.clone());
            text.extend(it.prescribed_by.as_ref().map(|who| format!("prescribed by {who}")));
            text.extend(it.every_hours.map(|hours| format!("every {}{STAY}h", number(hours, 1))));
            text.extend(it.doses.map(|doses| format!("{doses} times")));
            if !it.given.is_empty() {
                text.push(format!("given {} times", it.given.len()));
            }
        }
        Fact::Dose(it) => text.push(it.treatment.clone()),
        Fact::Planned(it) => {
            text.push(plan(it.what).to_owned());
            text.push(match it.until {
                Some(until) => format!("{} to {}", clock.when(it.from), clock.when(until)),
                None => format!("from {}", clock.when(it.from)),
            });
            yes_no(&mut text, it.sitter, "a sitter looks in", "nobody looks in");
        }
        Fact::Seen(_) => text.push("seen, or seen to be in".to_owned()),
        Fact::Note(it) => text.push(it.text.clone()),
        Fact::FreezerLot(it) => {
            text.push(prey_counted(it.class.key(), it.count));
            text.extend(it.mass_g.map(|grams| format!("{} each", mass(grams))));
            text.extend(it.bought.map(|when| format!("bought {}", clock.when(when))));
        }
        Fact::Override(it) => {
            text.push(format!(
                "{}: {}",
                it.path,
                range(it.low, it.high, species::unit_of(&it.path).unwrap_or_default())
            ));
            text.push(it.reason.clone());
        }
        Fact::Fitted(it) => {
            text.push(format!("fitted from a log of {}", clock.days(it.from.from, it.at.from)));
            text.push(format!("{} rows", it.log_rows));
            text.push(format!("the heater taken to have {}{STAY}W", number(it.watts, 0)));
            text.push(format!("off by {}{STAY}K", number(it.rms_k, 2)));
        }
    }
    text.join(", ")
}

/// The measure of an enclosure: «120 × 60 × 60 cm».
pub fn size(length_cm: Option<f64>, width_cm: Option<f64>, height_cm: Option<f64>) -> Option<String> {
    if length_cm.is_none() && width_cm.is_none() && height_cm.is_none() {
        return None;
    }
    let side = |side: Option<f64>| side.map_or("?".to_owned(), |cm| number(cm, 1));
    Some(format!("{} × {} × {}{STAY}cm", side(length_cm), side(width_cm), side(height_cm)))
}

#[cfg(test)]
mod tests {
    use records::facts::Fitted;

    use super::*;

    fn clock(now: &str) -> Clock {
        let zone = Zone::named("Europe/Lisbon").unwrap();
        let now = zone.read(now).unwrap().from;
        Clock::new(&zone, now)
    }

    fn plain(text: &str) -> String {
        text.replace(STAY, " ")
    }

    #[test]
    fn a_date_is_said_as_from_today() {
        let clock = clock("2026-03-14T19:30");
        let said = |text: &str| plain(&clock.when(clock.zone().read(text).unwrap()));
        for (text, words) in [
            ("2026-03-14T08:05", "today 08:05"),
            ("2026-03-13", "yesterday"),
            ("2026-03-15", "tomorrow"),
            ("2026-03-18", "Wednesday"),
            ("2026-03-21", "21 March"),
            ("2025-12-31", "31 December 2025"),
            ("2024-07", "July 2024"),
            ("2021", "2021"),
        ] {
            assert_eq!(said(text), words, "{text}");
        }
        assert_eq!(clock.part_of_day(), "evening");
    }

    #[test]
    fn a_midnight_is_said_as_its_day() {
        let clock = clock("2026-03-14T19:30");
        let moment = |text: &str| clock.zone().read(text).unwrap().from;
        assert_eq!(clock.moment(moment("2026-03-16")), "Monday");
        assert_eq!(clock.moment(moment("2026-03-16T20:00")), "Monday 20:00");
        assert_eq!(plain(&clock.days(moment("2026-03-24"), moment("2026-03-29"))), "24 to 29 March");
        assert_eq!(plain(&clock.days(moment("2026-03-29"), moment("2026-04-02"))), "29 March to 2 April");
        assert_eq!(plain(&clock.days(moment("2026-03-18"), moment("2026-03-29"))), "18 to 29 March");
        assert_eq!(plain(&clock.days(moment("2026-03-16"), moment("2026-03-18"))), "Monday to Wednesday");
        assert_eq!(clock.ago(moment("2026-03-04T23:00")), "10 days ago");
    }

    #[test]
    fn numbers_stand_with_their_unit_and_without_idle_zeros() {
        let cases = [
            (mass(684.4), "684 g"),
            (mass(9.5), "9.5 g"),
            (mass(1312.0), "1.31 kg"),
            (masses(34.0, 41.2), "34–41 g"),
            (masses(8.0, 8.0), "8 g"),
            (length(96.0), "96 cm"),
            (length(142.0), "1.42 m"),
            (celsius(-3.0), "\u{2212}3 °C"),
            (percent(61.4), "61 %"),
            (range(31.0, 33.5, "°C"), "31–33.5 °C"),
            (prey_counted("rat-weaned", 2), "2 weaned rats"),
            (prey_counted("", 1), "1 of no settled class"),
            (counted(3, "meal", "meals"), "three meals"),
            (counted(12, "meal", "meals"), "12 meals"),
            (listed(&["a", "b", "c"]), "a, b and c"),
            (names_or_count(&["a"; 11]), "11 animals"),
            (capital("élan"), "Élan"),
        ];
        for (said, words) in cases {
            assert_eq!(plain(&said), words);
        }
    }

    #[test]
    fn a_record_is_said_in_one_line() {
        let clock = clock("2026-03-14T19:30");
        let read = |kind: Kind, pairs: &[(&str, &str)]| {
            let given = records::fields::Given {
                pairs: pairs
                    .iter()
                    .map(|(key, value)| ((*key).to_owned(), records::Raw::Text((*value).to_owned())))
                    .collect(),
                origin: "the form".into(),
            };
            let mut reader = records::Reader::new(&given, clock.zone());
            Fact::read(kind, &mut reader).unwrap()
        };
        let meal =
            read(Kind::Meal, &[("at", "2026-03-14"), ("prey", "rat-weaned"), ("mass_g", "34"), ("outcome", "taken")]);
        assert_eq!(plain(&fact(&meal, &clock)), "weaned rat, 34 g, taken");
        let shed = read(
            Kind::Shed,
            &[
                ("dull_at", "2026-03-02"),
                ("shed_at", "2026-03-13"),
                ("pieces", "3"),
                ("retained", "tail-tip,left-eye-cap"),
            ],
        );
        assert_eq!(
            plain(&fact(&shed, &clock)),
            "dull 2 March, off yesterday, in 3 pieces, stayed on: tail tip and left eye cap"
        );
        let reading = read(
            Kind::Reading,
            &[("at", "2026-03-14"), ("spot", "cool-air"), ("temperature_c", "24.6"), ("humidity_pct", "61")],
        );
        assert_eq!(plain(&fact(&reading, &clock)), "cool air, 24.6 °C, 61 %");
        let enclosure = read(
            Kind::Enclosure,
            &[
                ("material", "glass"),
                ("thickness_mm", "4"),
                ("lid", "part-mesh"),
                ("lid_covered_pct", "60"),
                ("stands_on", "foam"),
                ("substrate", "bark"),
                ("substrate_cm", "5"),
                ("bowl_cm", "18"),
            ],
        );
        assert_eq!(
            plain(&fact(&enclosure, &clock)),
            "glass, walls of 4 mm, part mesh lid, 60 % of the lid covered, on foam, bark, substrate 5 cm deep, \
             water bowl 18 cm wide"
        );
        let heater = read(Kind::Heater, &[("kind", "panel"), ("set_c", "31"), ("night_set_c", "27.5")]);
        assert_eq!(plain(&fact(&heater, &clock)), "radiant panel, set to 31 °C, by night to 27.5 °C");
        let room = [
            ("room_c", "21"),
            ("room_night_c", "18"),
            ("room_winter_c", "16"),
            ("room_summer_c", "28"),
            ("room_pct", "45"),
        ];
        assert_eq!(
            plain(&fact(&read(Kind::Household, &room), &clock)),
            "room at 21 °C, at 18 °C by night, at 16 °C on the coldest days, at 28 °C on the warmest, humidity of \
             the room 45 %"
        );
    }

    #[test]
    fn what_a_log_said_is_told_with_its_span() {
        let clock = clock("2026-03-14T19:30");
        let at = |text: &str| clock.zone().read(text).unwrap();
        let log = Fact::Fitted(Fitted {
            at: at("2026-03-08T12:00"),
            from: at("2026-03-01T12:00"),
            warm_to_room_w_k: 0.7,
            warm_to_room_w_k_sd_pct: 6.0,
            cool_to_room_w_k: 0.6,
            cool_to_room_w_k_sd_pct: 7.0,
            warm_to_cool_w_k: 1.9,
            warm_to_cool_w_k_sd_pct: 12.0,
            warm_kj_k: 14.0,
            warm_kj_k_sd_pct: 9.0,
            cool_kj_k: 11.5,
            cool_kj_k_sd_pct: 10.0,
            heater_share: 0.8,
            heater_share_sd_pct: 0.0,
            watts: 40.0,
            rms_k: 0.214,
            log_rows: 2_016,
        });
        assert_eq!(
            plain(&fact(&log, &clock)),
            "fitted from a log of 1 to 8 March, 2016 rows, the heater taken to have 40 W, off by 0.21 K"
        );
    }

    #[test]
    fn every_choice_has_words() {
        assert!(Task::ALL.iter().all(|one| !task(*one).is_empty()));
        assert!(Kind::ALL.iter().all(|one| !kind(*one).is_empty()));
        assert!(
            Prey::ALL
                .iter()
                .all(|one| !prey(*one).contains('-') || matches!(one, Prey::SoftFurredRat | Prey::QuailDayOld))
        );
    }
}
