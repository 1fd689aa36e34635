//! Forms: one for each kind of record, from one table of fields.
//!
//! A form comes back as it was typed, with each fault at its field. What the fields are called is what
//! [`records::Fact::read`] reads, so that a form, a case file and a row speak of a record in the same words.

use records::Fault;
use records::choice::Choice;
use records::facts::{
    BreedingWhat, CleaningTask, EndingWhat, Grade, HeaterKind, Kind, Lid, Means, Outcome, Period, PlannedWhat, Prey,
    PreyState, Retained, Sex, SignKind, Spot, Stage, Stand, Thawing, Thermostat,
};

use crate::wording;

/// What a field asks for.
#[derive(Clone, Copy)]
pub enum Ask {
    /// A day with an hour where it is known.
    Moment,
    /// A date as precisely as it is known: a day, a month or a year.
    Loose,
    /// A number in a unit; other units may be typed with their own sign.
    Number(&'static str),
    /// A whole number.
    Count,
    /// A short text.
    Text,
    /// A long text.
    Long,
    /// One of a few, in a list that opens.
    Choice(fn() -> Vec<(String, String)>),
    /// One of a few, all in view.
    Radio(fn() -> Vec<(String, String)>),
    /// Several of a few.
    Several(fn() -> Vec<(String, String)>),
    /// One of a list that the page brings along.
    Given,
    /// A text with a list that the page brings along.
    Listed,
    /// Yes, no or not told.
    Flag,
    /// Yes, or not said.
    Tick,
}

/// A field of a form.
#[derive(Clone, Copy)]
pub struct Spec {
    /// Its key.
    pub key: &'static str,
    /// Its label.
    pub label: &'static str,
    /// A hint under it.
    pub hint: &'static str,
    /// What it asks for.
    pub ask: Ask,
    /// Is it needed?
    pub needed: bool,
    /// Is it kept behind «more»?
    pub extra: bool,
}

const fn field(key: &'static str, label: &'static str, ask: Ask) -> Spec {
    Spec { key, label, hint: "", ask, needed: false, extra: false }
}

impl Spec {
    const fn needed(self) -> Spec {
        Spec { needed: true, ..self }
    }
    const fn extra(self) -> Spec {
        Spec { extra: true, ..self }
    }
    const fn hint(self, hint: &'static str) -> Spec {
        Spec { hint, ..self }
    }
}

fn options<T: Choice>(words: fn(T) -> String) -> Vec<(String, String)> {
    T::ALL.iter().map(|one| (one.key().to_owned(), wording::capital(&words(*one)))).collect()
}

fn plain<T: Choice>() -> Vec<(String, String)> {
    options::<T>(T::words)
}

fn preys() -> Vec<(String, String)> {
    options::<Prey>(|one| wording::prey(one).to_owned())
}
fn outcomes() -> Vec<(String, String)> {
    options::<Outcome>(|one| wording::outcome(one).to_owned())
}
fn spots() -> Vec<(String, String)> {
    options::<Spot>(|one| wording::spot(one).to_owned())
}
fn chores() -> Vec<(String, String)> {
    options::<CleaningTask>(|one| wording::chore(one).to_owned())
}
fn plans() -> Vec<(String, String)> {
    options::<PlannedWhat>(|one| wording::plan(one).to_owned())
}
fn endings() -> Vec<(String, String)> {
    options::<EndingWhat>(|one| wording::ending(one).to_owned())
}
fn heaters() -> Vec<(String, String)> {
    options::<HeaterKind>(|one| wording::heater(one).to_owned())
}
fn thermostats() -> Vec<(String, String)> {
    options::<Thermostat>(|one| wording::thermostat(one).to_owned())
}
fn lids() -> Vec<(String, String)> {
    options::<Lid>(|one| wording::lid(one).to_owned())
}
fn stands() -> Vec<(String, String)> {
    options::<Stand>(|one| wording::stand(one).to_owned())
}
fn sexes() -> Vec<(String, String)> {
    options::<Sex>(|one| wording::sex(one).to_owned())
}
fn retained() -> Vec<(String, String)> {
    options::<Retained>(|one| wording::retained(one).to_owned())
}
fn probes() -> Vec<(String, String)> {
    use records::facts::Probe;
    let elsewhere = [Probe::BetweenMatAndFloor, Probe::Loose, Probe::Outside];
    let all = Spot::ALL.iter().map(|spot| Probe::At(*spot)).chain(elsewhere);
    all.map(|one| (one.key().to_owned(), wording::capital(wording::probe(one)))).collect()
}

/// The fields of a kind of record, in the order in which they are asked.
pub fn fields(kind: Kind) -> Vec<Spec> {
    let at = field("at", "When", Ask::Moment).needed();
    match kind {
        Kind::Meal => vec![
            field("prey", "Prey", Ask::Choice(preys)),
            field("mass_g", "Weight of one item", Ask::Number("g")),
            field("count", "How many items", Ask::Count),
            field("outcome", "What became of it", Ask::Radio(outcomes)).needed(),
            at,
            field("regurgitated_at", "Brought up again", Ask::Moment)
                .hint("only for a meal that came up again")
                .extra(),
            field("state", "State of the prey", Ask::Choice(plain::<PreyState>)).extra(),
            field("surface_c", "Its surface when offered", Ask::Number("°C")).extra(),
            field("thawed", "How it was thawed", Ask::Choice(plain::<Thawing>)).extra(),
            field("minutes_left", "Left with the animal for", Ask::Number("min")).extra(),
            field("frozen_on", "Frozen since", Ask::Loose).extra(),
            field("refrozen", "It had been thawed and frozen again", Ask::Tick).extra(),
        ],
        Kind::Weighing => vec![
            field("mass_g", "Weight", Ask::Number("g")).needed(),
            at,
            field("estimated", "Guessed, not weighed", Ask::Tick),
            field("body_score", "Body score by eye, 1 to 9", Ask::Count).hint("5 is ideal").extra(),
        ],
        Kind::Measurement => vec![
            field("total_length_cm", "Whole length, snout to tail tip", Ask::Number("cm")),
            field("snout_vent_cm", "Snout to vent", Ask::Number("cm")),
            field("girth_cm", "Around the widest part", Ask::Number("cm")),
            at,
        ],
        Kind::Shed => vec![
            field("dull_at", "Colours dull", Ask::Moment),
            field("blue_at", "Eyes milky", Ask::Moment),
            field("cleared_at", "Eyes clear again", Ask::Moment),
            field("shed_at", "Skin off", Ask::Moment),
            field("pieces", "In how many pieces", Ask::Count).hint("1 is a whole skin"),
            field("retained", "What stayed on", Ask::Several(retained)),
        ],
        Kind::Handling => vec![field("minutes", "How long", Ask::Number("min")), at],
        Kind::Cleaning => vec![field("task", "Which", Ask::Radio(chores)).needed(), at],
        Kind::Reading => vec![
            field("spot", "Where", Ask::Choice(spots)).needed(),
            field("temperature_c", "Temperature", Ask::Number("°C")),
            field("humidity_pct", "Humidity", Ask::Number("%")),
            at,
            field("period", "By day or by night", Ask::Choice(plain::<Period>)).extra(),
            field("means", "What the figure is", Ask::Choice(plain::<Means>)).extra(),
            field("hours", "It covers", Ask::Number("h")).extra(),
        ],
        Kind::Sign => vec![
            field("sign", "What was seen", Ask::Choice(plain::<SignKind>)).needed(),
            field("grade", "How marked", Ask::Radio(plain::<Grade>)),
            at,
            field("note", "In your words", Ask::Long).hint("kept beside the sign; it changes nothing"),
            field("cleared_at", "Gone since", Ask::Moment).extra(),
        ],
        Kind::Breeding => vec![
            field("what", "Which step", Ask::Radio(plain::<BreedingWhat>)).needed(),
            field("count", "How many eggs or young", Ask::Count),
            at,
        ],
        Kind::Power => vec![
            field("from", "Out since", Ask::Moment).needed(),
            field("until", "Back since", Ask::Moment).hint("leave it empty while the power is out"),
        ],
        Kind::Treatment => vec![
            field("name", "What was prescribed, in the veterinarian's words", Ask::Text).needed(),
            field("prescribed_by", "By whom", Ask::Text),
            field("from", "First time", Ask::Moment).needed(),
            field("every_hours", "Hours between two", Ask::Number("h")),
            field("doses", "How many times in all", Ask::Count),
        ],
        Kind::Dose => vec![field("treatment", "Which course", Ask::Listed).needed(), at],
        Kind::Planned => vec![
            field("what", "What is planned", Ask::Choice(plans)).needed(),
            field("from", "From", Ask::Moment).needed(),
            field("until", "Until", Ask::Moment).hint("that day is part of it"),
            field("sitter", "Somebody looks in while the keeper is away", Ask::Flag),
        ],
        Kind::Seen => vec![at],
        Kind::Note => vec![field("text", "Note", Ask::Long).needed(), at],
        Kind::FreezerLot => vec![
            field("class", "Class of prey", Ask::Choice(preys)).needed(),
            field("count", "How many are left", Ask::Count).needed(),
            field("mass_g", "Weight of one item", Ask::Number("g")),
            field("bought", "Bought", Ask::Loose),
        ],
        Kind::Ending => vec![
            field("what", "What happened", Ask::Radio(endings)).needed(),
            at,
            field("note", "To whom, of what", Ask::Text),
        ],
        Kind::Stay => vec![field("enclosure", "Into", Ask::Given).needed(), at],
        Kind::Animal => vec![
            field("name", "Name", Ask::Text),
            field("species", "Species", Ask::Listed).needed().hint("a common or a scientific name"),
            field("sex", "Sex", Ask::Radio(sexes)),
            field("hatched", "Hatched or born", Ask::Loose),
            field("arrived", "Came to you", Ask::Loose),
            field("age_months", "Age in months", Ask::Number("months"))
                .hint("where the date of hatching is not known")
                .extra(),
            field("stage", "Stage of life", Ask::Choice(plain::<Stage>))
                .hint("left open, age and size tell it")
                .extra(),
            field("family", "Family", Ask::Text)
                .hint("only for a species without a profile, such as Colubridae")
                .extra(),
            field("wild_caught", "Taken from the wild", Ask::Flag).extra(),
            field("used_to_handling", "Used to being handled", Ask::Flag).extra(),
            field("never_fed", "Has never eaten", Ask::Flag).extra(),
            field("complete_since", "The records hold everything since", Ask::Loose).extra(),
        ],
        Kind::Enclosure => vec![
            field("name", "Code or name on the door", Ask::Text),
            field("room", "Room", Ask::Text),
            field("length_cm", "Length inside", Ask::Number("cm")),
            field("width_cm", "Depth inside", Ask::Number("cm")),
            field("height_cm", "Height inside", Ask::Number("cm")),
            field("lid", "Lid", Ask::Radio(lids)),
            field("hides", "How many hides", Ask::Count),
            field("humid_hide", "A humid hide", Ask::Flag),
            field("material", "Made of", Ask::Text).extra(),
            field("thickness_mm", "Thickness of the walls", Ask::Number("mm")).extra(),
            field("lid_covered_pct", "How much of a mesh lid is covered", Ask::Number("%")).extra(),
            field("stands_on", "It stands on", Ask::Choice(stands)).extra(),
            field("substrate", "On the floor", Ask::Text).extra(),
            field("substrate_cm", "How deep", Ask::Number("cm")).extra(),
            field("bowl_cm", "Width of the water bowl", Ask::Number("cm")).extra(),
            field("locks", "It locks", Ask::Flag).extra(),
            field("gaps", "It has gaps", Ask::Flag).extra(),
            field("floor_wet", "The floor is wet", Ask::Flag).extra(),
            field("walk", "Place in the walk through the room", Ask::Number("")).extra(),
            field("cohabitants", "How many others live in it", Ask::Count).hint("left open, they are counted").extra(),
        ],
        Kind::Household => vec![
            field("young_children", "Children under five, or anyone at risk from Salmonella, live here", Ask::Flag),
            field("other_reptiles", "Other reptiles live in the house", Ask::Flag),
            field("region", "Country or region", Ask::Text).hint("decides season and law"),
            field("room_c", "Usual temperature of the room", Ask::Number("°C")),
            field("room_night_c", "The room by night", Ask::Number("°C")).extra(),
            field("room_winter_c", "The room on the coldest days of the year", Ask::Number("°C")).extra(),
            field("room_summer_c", "The room on the warmest days of the year", Ask::Number("°C")).extra(),
            field("room_pct", "Usual humidity of the room", Ask::Number("%")).extra(),
            field("contacts_sick", "A neighbour of the animals is sick or has died", Ask::Flag).extra(),
            field("quarantine_from", "Apart from the others since", Ask::Moment).extra(),
        ],
        Kind::Heater => vec![
            field("kind", "Kind", Ask::Choice(heaters)).needed(),
            field("watts", "Power", Ask::Number("W")),
            field("thermostat", "Thermostat", Ask::Choice(thermostats)),
            field("set_c", "Set to", Ask::Number("°C")),
            field("probe", "Where the probe lies", Ask::Choice(probes)),
            field("guarded", "Guarded, so that the animal cannot touch it", Ask::Flag),
            field("inside", "Inside the enclosure", Ask::Flag),
            field("night_set_c", "By night set to", Ask::Number("°C")).hint("where it is another than by day").extra(),
        ],
        Kind::Override => vec![
            field("path", "Which value", Ask::Listed).needed(),
            field("low", "From", Ask::Number("")).needed(),
            field("high", "To", Ask::Number("")),
            field("reason", "Why, and by whose word", Ask::Long).needed(),
        ],
        Kind::Fitted => vec![
            field("at", "The log ends", Ask::Moment),
            field("from", "The log begins", Ask::Moment),
            field("warm_to_room_w_k", "From the warm half to the room, W/K", Ask::Number("")),
            field("warm_to_room_w_k_sd_pct", "Give or take, %", Ask::Number("%")),
            field("cool_to_room_w_k", "From the cool half to the room, W/K", Ask::Number("")),
            field("cool_to_room_w_k_sd_pct", "Give or take, %", Ask::Number("%")),
            field("warm_to_cool_w_k", "From the warm half to the cool one, W/K", Ask::Number("")),
            field("warm_to_cool_w_k_sd_pct", "Give or take, %", Ask::Number("%")),
            field("warm_kj_k", "Heat that the warm half holds, kJ/K", Ask::Number("")),
            field("warm_kj_k_sd_pct", "Give or take, %", Ask::Number("%")),
            field("cool_kj_k", "Heat that the cool half holds, kJ/K", Ask::Number("")),
            field("cool_kj_k_sd_pct", "Give or take, %", Ask::Number("%")),
            field("heater_share", "Share of the heater's power that reaches the warm half", Ask::Number("")),
            field("heater_share_sd_pct", "Give or take, %", Ask::Number("%")),
            field("watts", "Power that the heater was taken to have, W", Ask::Number("W")),
            field("rms_k", "What the fit leaves over, K", Ask::Number("")),
            field("log_rows", "Rows of the log", Ask::Count),
        ],
    }
}

/// Does a person write it down? What is reckoned from a log has names for its fields, and no form.
pub fn is_typed(kind: Kind) -> bool {
    kind != Kind::Fitted
}

/// The title of a form that writes a record of a kind down.
pub fn title(kind: Kind) -> &'static str {
    match kind {
        Kind::Meal => "A meal",
        Kind::Weighing => "A weight",
        Kind::Measurement => "A length",
        Kind::Shed => "A shed",
        Kind::Handling => "Handling",
        Kind::Cleaning => "A chore",
        Kind::Reading => "A reading",
        Kind::Sign => "Something seen on the animal",
        Kind::Breeding => "A step of breeding",
        Kind::Power => "A power cut",
        Kind::Treatment => "What a veterinarian prescribed",
        Kind::Dose => "One dose given",
        Kind::Planned => "A plan",
        Kind::Seen => "Seen",
        Kind::Note => "A note",
        Kind::FreezerLot => "Frozen prey",
        Kind::Ending => "End of a stay",
        Kind::Stay => "A move into an enclosure",
        Kind::Animal => "An animal",
        Kind::Enclosure => "An enclosure",
        Kind::Household => "What holds for everyone",
        Kind::Heater => "A heater",
        Kind::Override => "A value of its own",
        Kind::Fitted => "What a log said",
    }
}

/// A choice of a field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opt {
    /// The value that it sends.
    pub value: String,
    /// Its words.
    pub text: String,
    /// Is it chosen?
    pub chosen: bool,
}

/// How a field is filled in.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names say what is typed, chosen and offered")]
pub enum Control {
    Line { value: String, unit: &'static str, numeric: bool, list: Vec<String>, place: String },
    Clock { value: String },
    Moment { date: String, time: String },
    Area { value: String },
    Select { options: Vec<Opt> },
    Radio { options: Vec<Opt> },
    Checks { options: Vec<Opt> },
    Tick { chosen: bool },
}

/// A field as it is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// Its key.
    pub key: String,
    /// Id of its element.
    pub id: String,
    /// Its label.
    pub label: &'static str,
    /// A hint under it.
    pub hint: &'static str,
    /// Is it needed?
    pub needed: bool,
    /// How it is filled in.
    pub control: Control,
    /// What is wrong with it.
    pub fault: Option<String>,
}

impl Field {
    pub(crate) fn described(&self) -> String {
        let mut ids = Vec::new();
        if !self.hint.is_empty() {
            ids.push(format!("{}-hint", self.id));
        }
        if self.fault.is_some() {
            ids.push(format!("{}-fault", self.id));
        }
        ids.join(" ")
    }
}

/// What is wrong, as a line of the summary.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FaultLine {
    /// What is wrong and how to mend it.
    pub says: String,
    /// The field it is about.
    pub target: Option<String>,
}

/// A form as it is shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Form {
    /// Where it is sent.
    pub action: String,
    /// Tells the fields of forms on one page apart.
    pub prefix: String,
    /// What is sent along.
    pub hidden: Vec<(String, String)>,
    /// The fields that are asked first.
    pub main: Vec<Field>,
    /// The fields behind «more».
    pub extra: Vec<Field>,
    /// What is wrong.
    pub faults: Vec<FaultLine>,
    /// What is odd and wants a yes.
    pub doubts: Vec<String>,
    /// The words on its button.
    pub submit: String,
}

impl Field {
    /// Is it filled in or at fault?
    pub(crate) fn is_touched(&self) -> bool {
        self.fault.is_some()
            || match &self.control {
                Control::Line { value, .. } | Control::Area { value } | Control::Clock { value } => !value.is_empty(),
                Control::Moment { date, time } => !date.is_empty() || !time.is_empty(),
                Control::Select { options } | Control::Radio { options } | Control::Checks { options } => {
                    options.iter().any(|option| option.chosen && !option.value.is_empty())
                }
                Control::Tick { chosen } => *chosen,
            }
    }
}

impl Form {
    /// Is something behind «more» filled in or at fault?
    pub(crate) fn extra_is_open(&self) -> bool {
        self.extra.iter().any(Field::is_touched)
    }
}

/// Choices of a field: value and words.
pub type Choices = Vec<(String, String)>;

/// What a form is filled with.
#[derive(Clone, Debug, Default)]
pub struct Filling<'a> {
    /// What was typed, or what stood before: key and value.
    pub typed: &'a [(String, String)],
    /// Choices that the page brings along, by field: value and words.
    pub lists: &'a [(&'static str, Choices)],
    /// What is wrong; the place of a fault is the key of its field.
    pub faults: &'a [Fault],
}

impl Filling<'_> {
    fn value(&self, key: &str) -> String {
        self.typed.iter().find(|(name, _)| name == key).map_or(String::new(), |(_, value)| value.clone())
    }

    fn list(&self, key: &str) -> Vec<(String, String)> {
        self.lists.iter().find(|(name, _)| *name == key).map_or(Vec::new(), |(_, list)| list.clone())
    }
}

/// The end of the name of the field that holds the hour of a moment.
pub const TIME: &str = "_time";

/// The parts of a moment as a date and a time field hold them.
pub(crate) fn moment_parts(value: &str, time: &str) -> (String, String) {
    let date = value.get(..10).unwrap_or(value).to_owned();
    let own = value.get(11..16).unwrap_or_default();
    (date, if time.is_empty() { own.to_owned() } else { time.to_owned() })
}

fn control(spec: &Spec, filling: &Filling<'_>) -> Control {
    let value = filling.value(spec.key);
    let line = |unit, numeric, list: Vec<String>, place: &str| Control::Line {
        value: value.clone(),
        unit,
        numeric,
        list,
        place: place.to_owned(),
    };
    let chosen = |list: Vec<(String, String)>, value: &str| -> Vec<Opt> {
        list.into_iter().map(|(key, text)| Opt { chosen: key == value, value: key, text }).collect()
    };
    let empty = |words: &str| Opt { value: String::new(), text: words.to_owned(), chosen: value.is_empty() };
    match spec.ask {
        Ask::Moment => {
            let (date, time) = moment_parts(&value, &filling.value(&format!("{}{TIME}", spec.key)));
            Control::Moment { date, time }
        }
        Ask::Loose => line("", false, Vec::new(), "2026-03-14, 2026-03 or 2026"),
        Ask::Number(unit) => line(unit, true, Vec::new(), ""),
        Ask::Count => line("", true, Vec::new(), ""),
        Ask::Text => line("", false, Vec::new(), ""),
        Ask::Listed => line("", false, filling.list(spec.key).into_iter().map(|(value, _)| value).collect(), ""),
        Ask::Long => Control::Area { value },
        Ask::Choice(list) => {
            let mut options = vec![empty("not told")];
            options.extend(chosen(list(), &value));
            Control::Select { options }
        }
        Ask::Given => {
            let mut options = vec![empty("choose")];
            options.extend(chosen(filling.list(spec.key), &value));
            Control::Select { options }
        }
        Ask::Radio(list) => Control::Radio { options: chosen(list(), &value) },
        Ask::Several(list) => {
            let picked: Vec<&str> = value.split(',').map(str::trim).collect();
            let option =
                |(key, text): (String, String)| Opt { chosen: picked.contains(&key.as_str()), value: key, text };
            Control::Checks { options: list().into_iter().map(option).collect() }
        }
        Ask::Flag => {
            let value = match value.as_str() {
                "true" | "yes" | "on" => "true",
                "false" | "no" => "false",
                _ => "",
            };
            let list = [("", "Not told"), ("true", "Yes"), ("false", "No")];
            let option =
                |(key, text): (&str, &str)| Opt { chosen: key == value, value: key.to_owned(), text: text.to_owned() };
            Control::Radio { options: list.into_iter().map(option).collect() }
        }
        Ask::Tick => Control::Tick { chosen: matches!(value.as_str(), "true" | "yes" | "on" | "1") },
    }
}

/// Replaces the key of a field by its label in a message.
pub(crate) fn in_words(fault: &Fault, labels: &[(&str, &str)]) -> String {
    let mut what = fault.what.clone();
    let mut mend = fault.mend.clone();
    for (key, label) in labels {
        let key = format!("`{key}`");
        what = what.replace(&format!(" ({key})"), "").replace(&key, &format!("«{label}»"));
        mend = mend.replace(&key, &format!("«{label}»"));
    }
    format!("{}: {mend}.", wording::capital(&what))
}

/// The form of a kind of record.
pub fn form(kind: Kind, prefix: &str, filling: &Filling<'_>) -> Form {
    from_specs(&fields(kind), prefix, filling)
}

/// A form of these fields.
pub fn from_specs(specs: &[Spec], prefix: &str, filling: &Filling<'_>) -> Form {
    let id = |key: &str| format!("{prefix}-{key}");
    let labels: Vec<(&str, &str)> = specs.iter().map(|spec| (spec.key, spec.label)).collect();
    let view = |spec: &Spec| Field {
        key: spec.key.to_owned(),
        id: id(spec.key),
        label: spec.label,
        hint: spec.hint,
        needed: spec.needed,
        control: control(spec, filling),
        fault: {
            let here: Vec<String> = filling
                .faults
                .iter()
                .filter(|fault| fault.place == spec.key)
                .map(|fault| in_words(fault, &labels))
                .collect();
            (!here.is_empty()).then(|| here.join(" "))
        },
    };
    let faults = filling
        .faults
        .iter()
        .map(|fault| FaultLine {
            says: in_words(fault, &labels),
            target: specs.iter().find(|spec| spec.key == fault.place).map(|spec| id(spec.key)),
        })
        .collect();
    Form {
        prefix: prefix.to_owned(),
        main: specs.iter().filter(|spec| !spec.extra).map(view).collect(),
        extra: specs.iter().filter(|spec| spec.extra).map(view).collect(),
        faults,
        submit: "Write it down".to_owned(),
        ..Form::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_asks_only_for_what_is_read() {
        for kind in Kind::ALL {
            let pairs = fields(*kind).into_iter().map(|spec| (spec.key.to_owned(), records::Raw::Text(String::new())));
            let given = records::fields::Given { pairs: pairs.collect(), origin: "the form".into() };
            let zone = units::Zone::none();
            let mut reader = records::Reader::new(&given, &zone);
            let _ = records::Fact::read(*kind, &mut reader);
            let unknown: Vec<String> =
                reader.finish().into_iter().map(|fault| fault.what).filter(|what| what.contains("unknown")).collect();
            assert!(unknown.is_empty(), "{kind}: {unknown:?}");
            assert!(!title(*kind).is_empty());
        }
    }

    #[test]
    fn a_form_comes_back_as_typed_with_each_fault_at_its_field() {
        let typed = [("mass_g".to_owned(), "heavy".to_owned()), ("at".to_owned(), "2026-03-14T19:30+00:00".to_owned())];
        let faults = [Fault::new(
            "`heavy` is not a number (`mass_g`)",
            "mass_g",
            "write digits, with a point or a comma for decimals",
        )];
        let form = form(Kind::Weighing, "f", &Filling { typed: &typed, lists: &[], faults: &faults });
        let mass = &form.main[0];
        assert!(matches!(&mass.control, Control::Line { value, unit: "g", .. } if value == "heavy"));
        assert_eq!(
            mass.fault.as_deref(),
            Some("`heavy` is not a number: write digits, with a point or a comma for decimals.")
        );
        assert_eq!(form.faults[0].target.as_deref(), Some("f-mass_g"));
        assert!(
            matches!(&form.main[1].control, Control::Moment { date, time } if date == "2026-03-14" && time == "19:30")
        );
        assert!(!form.extra_is_open());
    }

    #[test]
    fn what_is_filled_in_behind_more_opens_it() {
        let typed = [("surface_c".to_owned(), "31".to_owned())];
        assert!(form(Kind::Meal, "f", &Filling { typed: &typed, ..Filling::default() }).extra_is_open());
    }
}
