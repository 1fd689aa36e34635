//! What was told of an enclosure, its heating, its room and its animal.

use records::Fault;
use records::choice::Choice;
use records::facts::{Enclosure, Fitted, Heater, HeaterKind, Household, Lid, Probe, Spot, Stand, Thermostat};
use records::fields::{Limits, Reader};
use species::{Found, Profile};

use super::changed;
use super::material::{self, Told};
use crate::lines;
use crate::what_if::{Basis, Entry, Field, Group, Known, Place, Question, Reckoning, Resident, Unit};

/// What was told and what is on record, typed before recorded.
#[derive(Clone, Debug)]
pub struct Description {
    /// Inner length, cm.
    pub length_cm: f64,
    /// Inner width, cm.
    pub width_cm: f64,
    /// Inner height, cm.
    pub height_cm: f64,
    /// The rest of what is known of the box.
    pub enclosure: Enclosure,
    /// Heaters inside or under it, the main one first. A heater of the room is none of them.
    pub heaters: Vec<Heater>,
    /// The room by day, °C.
    pub room_c: Option<f64>,
    /// The room by night, °C.
    pub room_night_c: Option<f64>,
    /// The room on the coldest days, °C.
    pub room_winter_c: Option<f64>,
    /// The room on the warmest days, °C.
    pub room_summer_c: Option<f64>,
    /// Relative humidity of the room, %.
    pub room_pct: Option<f64>,
    /// Who lives in it, or whom it is for.
    pub residents: Vec<Resident>,
    /// What a log said about it.
    pub fitted: Option<Fitted>,
    /// Why what a log said about it does not hold here: what is another than when it was logged.
    pub changed: Vec<String>,
}

const SIDE_CM: Limits = Limits::new(5.0, 2_000.0, "centimetres");
const TEMPERATURE_C: Limits = Limits::new(-30.0, 60.0, "°C");

fn chosen<T: Choice>() -> Vec<(&'static str, String)> {
    T::ALL.iter().map(|one| (one.key(), one.words())).collect()
}

fn heater_kinds() -> Vec<(&'static str, String)> {
    chosen::<HeaterKind>().into_iter().filter(|(key, _)| *key != "room").collect()
}

/// Places for the probe of a thermostat that the model knows.
const PROBES: [Probe; 7] = [
    Probe::At(Spot::WarmSurface),
    Probe::At(Spot::WarmAir),
    Probe::BetweenMatAndFloor,
    Probe::At(Spot::CoolAir),
    Probe::At(Spot::CoolSurface),
    Probe::Loose,
    Probe::Outside,
];

fn probes() -> Vec<(&'static str, String)> {
    PROBES.iter().map(|probe| (probe.key(), probe.key().replace('-', " "))).collect()
}

/// The fields of a description. All may be left open where the enclosure is on record; else the three sides are needed.
pub fn fields() -> Vec<Field> {
    use Group::{Animal, Enclosure, Heating, Room};
    vec![
        Field::new("length_cm", "Length inside", Entry::Number(Unit::Centimetres), Enclosure)
            .hint("from the warm to the cool end"),
        Field::new("width_cm", "Width (front to back)", Entry::Number(Unit::Centimetres), Enclosure),
        Field::new("height_cm", "Height", Entry::Number(Unit::Centimetres), Enclosure),
        Field::new("material", "Material of the walls", Entry::Text, Enclosure)
            .hint("glass, acrylic, PVC, wood, plastic tub, foam …, or «don't know»"),
        Field::new("lid", "Lid", Entry::Choice(chosen::<Lid>), Enclosure),
        Field::new("thickness_mm", "Thickness of the walls", Entry::Number(Unit::Millimetres), Enclosure).extra(),
        Field::new("lid_covered_pct", "Mesh covered", Entry::Number(Unit::Percent), Enclosure).extra(),
        Field::new("stands_on", "Stands on", Entry::Choice(chosen::<Stand>), Enclosure).extra(),
        Field::new("substrate", "Substrate", Entry::Text, Enclosure)
            .hint("paper, aspen, bark, damp coir …, or «none»")
            .extra(),
        Field::new("substrate_cm", "Depth of the substrate", Entry::Number(Unit::Centimetres), Enclosure).extra(),
        Field::new("bowl_cm", "Diameter of the water bowl", Entry::Number(Unit::Centimetres), Enclosure).extra(),
        Field::new("heater", "Heater", Entry::Choice(heater_kinds), Heating),
        Field::new("watts", "Watts", Entry::Number(Unit::Watts), Heating).hint("as printed on it"),
        Field::new("thermostat", "Thermostat", Entry::Choice(chosen::<Thermostat>), Heating),
        Field::new("set_c", "Set point", Entry::Number(Unit::Celsius), Heating),
        Field::new("night_set_c", "Set point by night", Entry::Number(Unit::Celsius), Heating).extra(),
        Field::new("probe", "Probe of the thermostat", Entry::Choice(probes), Heating),
        Field::new("room_c", "Room", Entry::Number(Unit::Celsius), Room),
        Field::new("room_night_c", "Room by night", Entry::Number(Unit::Celsius), Room).extra(),
        Field::new("room_winter_c", "Room in the coldest week", Entry::Number(Unit::Celsius), Room).extra(),
        Field::new("room_summer_c", "Room in the warmest week", Entry::Number(Unit::Celsius), Room).extra(),
        Field::new("room_pct", "Humidity of the room", Entry::Number(Unit::Humidity), Room).extra(),
        Field::new("species", "Species", Entry::Text, Animal).hint("its limits are what the answer is held against"),
    ]
}

impl Description {
    /// What is on record of an enclosure, its heaters and the household. `None` where one of the three sides is missing.
    pub fn recorded(
        enclosure: &Enclosure,
        heaters: &[Heater],
        household: Option<&Household>,
        residents: Vec<Resident>,
    ) -> Option<Description> {
        let room = |of: fn(&Household) -> Option<f64>| household.and_then(of);
        Some(Description {
            length_cm: enclosure.length_cm?,
            width_cm: enclosure.width_cm?,
            height_cm: enclosure.height_cm?,
            enclosure: enclosure.clone(),
            heaters: strongest_first(heaters),
            room_c: room(|one| one.room_c),
            room_night_c: room(|one| one.room_night_c),
            room_winter_c: room(|one| one.room_winter_c),
            room_summer_c: room(|one| one.room_summer_c),
            room_pct: room(|one| one.room_pct),
            residents,
            fitted: None,
            changed: Vec::new(),
        })
    }

    /// With what a log said about the place that it is a description of, where that is still as it was logged.
    #[must_use]
    pub fn resting_on(mut self, place: &Place) -> Description {
        let Some(fitted) = &place.fitted else { return self };
        self.changed = place.changed();
        self.changed.extend(changed::otherwise(&place.enclosure, &self.enclosure));
        self.changed.extend(changed::other_kind(&place.heaters, &self.heaters));
        if !self.changed.is_empty() {
            return self;
        }
        // Unless another power is asked about, it is the one that was fitted with: a meter's word before the label's.
        let recorded = strongest_first(&place.heaters).first().and_then(|one| one.watts);
        if let Some(main) = self.heaters.first_mut().filter(|main| main.watts == recorded) {
            main.watts = Some(fitted.watts);
        }
        self.fitted = Some(fitted.clone());
        self
    }

    /// Reads a description; what is not typed is taken from the record. Faults are left with the reader.
    pub fn read(reader: &mut Reader<'_>, known: &Known) -> Option<Description> {
        let mut enclosure = known.place.as_ref().map_or_else(Enclosure::default, |place| place.enclosure.clone());
        box_of(reader, &mut enclosure);
        let heaters = heaters_of(reader, known, &enclosure);
        let mut household = known.household.clone().unwrap_or_default();
        let mut room = |key, into: &mut Option<f64>| take(into, reader.number(key, TEMPERATURE_C));
        room("room_c", &mut household.room_c);
        room("room_night_c", &mut household.room_night_c);
        room("room_winter_c", &mut household.room_winter_c);
        room("room_summer_c", &mut household.room_summer_c);
        take(&mut household.room_pct, reader.number("room_pct", Limits::new(0.0, 100.0, "% relative humidity")));
        let residents = residents_of(reader, known);
        if reader.is_faulty() {
            return None;
        }
        reader.require("length_cm", enclosure.length_cm);
        reader.require("width_cm", enclosure.width_cm);
        reader.require("height_cm", enclosure.height_cm);
        let described = Description::recorded(&enclosure, &heaters, Some(&household), residents)?;
        Some(match &known.place {
            Some(place) => described.resting_on(place),
            None => described,
        })
    }

    /// The same from what is told alone, whatever a log said.
    #[must_use]
    pub fn unfitted(self) -> Description {
        Description { fitted: None, changed: Vec::new(), ..self }
    }

    /// The profile whose limits count: the resident's, or that of the species asked about. Of several the first.
    pub fn profile(&self) -> Option<&Profile> {
        self.residents.first().map(|one| &one.profile)
    }

    /// An answer that rests on this description, with nothing in it yet.
    pub fn begin(&self, question: Question) -> Reckoning {
        let basis = self.fitted.as_ref().map_or(Basis::Described, |fitted| Basis::Fitted {
            from: fitted.from.from,
            until: fitted.at.from,
            rms_k: fitted.rms_k,
        });
        let mut answer = Reckoning::to(question, basis);
        if !self.changed.is_empty() {
            let changed = self.changed.join("; ");
            answer.untold.push(format!("What the log says of it: since it was logged, {changed}. Log it again."));
        }
        answer
    }

    /// The floor of the whole box, m².
    pub fn floor_m2(&self) -> f64 {
        self.length_cm * self.width_cm / 1e4
    }
}

/// Heaters inside or under an enclosure, the strongest first: it is the one that a question is about. A heater of the
/// room is none of them.
pub fn strongest_first(heaters: &[Heater]) -> Vec<Heater> {
    let mut heaters: Vec<Heater> = heaters.iter().filter(|one| one.kind != HeaterKind::Room).cloned().collect();
    heaters.sort_by(|a, b| b.watts.unwrap_or(0.0).total_cmp(&a.watts.unwrap_or(0.0)));
    heaters
}

/// What is typed stands in the place of what is recorded.
fn take<T>(into: &mut Option<T>, typed: Option<T>) {
    if typed.is_some() {
        *into = typed;
    }
}

fn box_of(reader: &mut Reader<'_>, enclosure: &mut Enclosure) {
    take(&mut enclosure.length_cm, reader.number("length_cm", SIDE_CM));
    take(&mut enclosure.width_cm, reader.number("width_cm", SIDE_CM));
    take(&mut enclosure.height_cm, reader.number("height_cm", SIDE_CM));
    take(&mut enclosure.thickness_mm, reader.number("thickness_mm", Limits::new(0.5, 100.0, "millimetres")));
    take(&mut enclosure.lid, reader.choice("lid"));
    take(&mut enclosure.lid_covered_pct, reader.number("lid_covered_pct", Limits::new(0.0, 100.0, "% of the lid")));
    take(&mut enclosure.stands_on, reader.choice("stands_on"));
    take(&mut enclosure.substrate, reader.text("substrate"));
    take(&mut enclosure.substrate_cm, reader.number("substrate_cm", Limits::new(0.0, 60.0, "centimetres")));
    take(&mut enclosure.bowl_cm, reader.number("bowl_cm", Limits::new(2.0, 150.0, "centimetres")));
    if let Some(text) = reader.text("material") {
        if material::wall(&text) == Told::Strange {
            let near = records::fault::nearest(&text, material::wall_words(), 3);
            let mend = if near.is_empty() {
                "choose glass, acrylic, polycarbonate, PVC, plastic, wood, MDF, chipboard or foam; or write «don't know»"
                    .to_owned()
            } else {
                format!("did you mean {}? Else write «don't know»", near.join(" or "))
            };
            reader.object("material", format!("`{text}` is no material that is known here (`material`)"), mend);
        }
        enclosure.material = Some(text);
    }
}

fn heaters_of(reader: &mut Reader<'_>, known: &Known, enclosure: &Enclosure) -> Vec<Heater> {
    let mut heaters = known.place.as_ref().map(|place| strongest_first(&place.heaters)).unwrap_or_default();
    let kind: Option<HeaterKind> = reader.choice("heater");
    let watts = reader.number("watts", Limits::new(0.5, 5_000.0, "watts"));
    let thermostat = reader.choice("thermostat");
    let set_c = reader.number("set_c", Limits::new(0.0, 80.0, "°C"));
    let night_set_c = reader.number("night_set_c", Limits::new(0.0, 80.0, "°C"));
    let probe = reader.text("probe").and_then(|text| {
        let probe = Probe::from_key(&text);
        if probe.is_none() {
            let places = PROBES.iter().map(|probe| probe.key()).collect::<Vec<_>>().join(", ");
            reader.object("probe", format!("`{text}` is no place for a probe (`probe`)"), format!("choose {places}"));
        }
        probe
    });
    let is_typed = kind.is_some() || watts.is_some() || set_c.is_some();
    if heaters.is_empty() && is_typed {
        let kind = kind.unwrap_or(HeaterKind::Other);
        let nothing = Heater::of(kind);
        heaters.push(nothing);
    }
    if let Some(main) = heaters.first_mut() {
        main.kind = kind.unwrap_or(main.kind);
        main.watts = watts.or(main.watts);
        main.thermostat = thermostat.or(main.thermostat);
        main.set_c = set_c.or(main.set_c);
        main.night_set_c = night_set_c.or(main.night_set_c);
        main.probe = probe.or(main.probe);
    }
    let most = lines::high("twin_watts_most").value;
    if let Some(watts) = heaters.iter().filter_map(|one| one.watts).find(|watts| most < *watts) {
        let size = enclosure.length_cm.map_or(String::new(), |cm| format!(" of {cm:.0} cm"));
        reader.object(
            "watts",
            format!("{watts:.0} W is the power of a stove, not of a heater for an enclosure{size} (`watts`)"),
            format!("read the label of the heater; up to {most:.0} W can be reckoned with"),
        );
    }
    heaters
}

fn residents_of(reader: &mut Reader<'_>, known: &Known) -> Vec<Resident> {
    let recorded = || known.place.as_ref().map(|place| place.residents.clone()).unwrap_or_default();
    let Some(name) = reader.text("species") else { return recorded() };
    match species::library().find(&name) {
        Found::One(profile) => {
            vec![Resident {
                name: None,
                profile: profile.clone(),
                is_hatchling: false,
                is_digesting: false,
                mass_g: None,
            }]
        }
        other => {
            let near: Vec<String> = match other {
                Found::Ask { profiles, .. } => profiles.iter().map(|one| one.key.clone()).collect(),
                Found::None { nearest } => nearest,
                Found::One(_) => Vec::new(),
            };
            let mend = if near.is_empty() {
                "`warmside species` lists those that are known".to_owned()
            } else {
                format!("did you mean {}?", near.join(" or "))
            };
            reader.object("species", format!("`{name}` is no species that is known here"), mend);
            Vec::new()
        }
    }
}

/// Reads a description and what `more` asks of the same fields; all faults at once.
pub fn read<T>(
    typed: &dyn records::Fields,
    known: &Known,
    more: impl FnOnce(&mut Reader<'_>) -> T,
) -> Result<(Description, T), Vec<Fault>> {
    let mut reader = Reader::new(typed, &known.zone);
    let more = more(&mut reader);
    let description = Description::read(&mut reader, known);
    let faults = reader.finish();
    match description {
        Some(description) if faults.is_empty() => Ok((description, more)),
        _ => Err(faults),
    }
}
