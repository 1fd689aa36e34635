//! Enclosures, heaters, the household, and values of a profile that do not hold for an animal.

use units::When;

use super::{Recorded, Sheet, Spot};
use crate::choice::Choice;
use crate::choices;
use crate::fields::{Limits, Reader};

choices!(
    /// What covers the enclosure.
    Lid, "lid", { Solid = "solid", Mesh = "mesh", PartMesh = "part-mesh" }
);

choices!(
    /// What an enclosure stands on.
    Stand, "thing to stand on", { Shelf = "shelf", Foam = "foam", Other = "other" }
);

const SIDE_CM: Limits = Limits::new(5.0, 2_000.0, "centimetres");

/// An enclosure.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Enclosure {
    /// What it is called: the code on its door.
    pub name: Option<String>,
    /// The room it stands in.
    pub room: Option<String>,
    /// Its place in the walk past all enclosures of the room.
    pub walk: Option<f64>,
    /// Inner length, in cm.
    pub length_cm: Option<f64>,
    /// Inner width (depth), in cm.
    pub width_cm: Option<f64>,
    /// Inner height, in cm.
    pub height_cm: Option<f64>,
    /// Of what it is made, in the keeper's words: glass, wood, tub.
    pub material: Option<String>,
    /// How thick its walls are, in mm.
    pub thickness_mm: Option<f64>,
    /// What covers it.
    pub lid: Option<Lid>,
    /// How much of a mesh lid is covered, in %.
    pub lid_covered_pct: Option<f64>,
    /// What it stands on.
    pub stands_on: Option<Stand>,
    /// What covers the floor, in the keeper's words.
    pub substrate: Option<String>,
    /// How deep the substrate is, in cm.
    pub substrate_cm: Option<f64>,
    /// How wide the water bowl is, in cm.
    pub bowl_cm: Option<f64>,
    /// How many hides.
    pub hides: Option<u32>,
    /// Is there a humid hide?
    pub humid_hide: Option<bool>,
    /// How many others live in it.
    pub cohabitants: Option<u32>,
    /// Does it lock?
    pub locks: Option<bool>,
    /// Are there gaps?
    pub gaps: Option<bool>,
    /// Is the floor wet?
    pub floor_wet: Option<bool>,
}

impl Recorded for Enclosure {
    fn read(reader: &mut Reader<'_>) -> Option<Enclosure> {
        Some(Enclosure {
            name: reader.text("name"),
            room: reader.text("room"),
            walk: reader.number("walk", Limits::new(0.0, 1e6, "places")),
            length_cm: reader.number("length_cm", SIDE_CM),
            width_cm: reader.number("width_cm", SIDE_CM),
            height_cm: reader.number("height_cm", SIDE_CM),
            material: reader.text("material"),
            thickness_mm: reader.number("thickness_mm", Limits::new(0.5, 100.0, "millimetres")),
            lid: reader.choice("lid"),
            lid_covered_pct: reader.number("lid_covered_pct", Limits::new(0.0, 100.0, "% of the lid")),
            stands_on: reader.choice("stands_on"),
            substrate: reader.text("substrate"),
            substrate_cm: reader.number("substrate_cm", Limits::new(0.0, 60.0, "centimetres")),
            bowl_cm: reader.number("bowl_cm", Limits::new(2.0, 150.0, "centimetres")),
            hides: reader.count("hides", 0, 100),
            humid_hide: reader.flag("humid_hide"),
            cohabitants: reader.count("cohabitants", 0, 1_000),
            locks: reader.flag("locks"),
            gaps: reader.flag("gaps"),
            floor_wet: reader.flag("floor_wet"),
        })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.text("name", self.name.as_deref());
        sheet.text("room", self.room.as_deref());
        sheet.number("walk", self.walk);
        sheet.number("length_cm", self.length_cm);
        sheet.number("width_cm", self.width_cm);
        sheet.number("height_cm", self.height_cm);
        sheet.text("material", self.material.as_deref());
        sheet.number("thickness_mm", self.thickness_mm);
        sheet.choice("lid", self.lid);
        sheet.number("lid_covered_pct", self.lid_covered_pct);
        sheet.choice("stands_on", self.stands_on);
        sheet.text("substrate", self.substrate.as_deref());
        sheet.number("substrate_cm", self.substrate_cm);
        sheet.number("bowl_cm", self.bowl_cm);
        sheet.number("hides", self.hides.map(f64::from));
        sheet.flag("humid_hide", self.humid_hide);
        sheet.number("cohabitants", self.cohabitants.map(f64::from));
        sheet.flag("locks", self.locks);
        sheet.flag("gaps", self.gaps);
        sheet.flag("floor_wet", self.floor_wet);
    }
    fn when(&self) -> Option<When> {
        None
    }
}

choices!(
    /// Kinds of heaters.
    HeaterKind, "kind of heater", {
        Mat = "mat", Cable = "cable", Ceramic = "ceramic", Panel = "panel", Lamp = "lamp", Rock = "rock",
        Room = "room", Other = "other",
    }
);

choices!(
    /// How a thermostat works.
    Thermostat, "kind of thermostat", { None = "none", OnOff = "on-off", Pulse = "pulse", Dimming = "dimming" }
);

/// Where a thermostat's probe lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Probe {
    /// At a spot.
    At(Spot),
    /// Between the mat and the floor of the enclosure.
    BetweenMatAndFloor,
    /// Not fixed.
    Loose,
    /// Outside the enclosure.
    Outside,
}

impl Probe {
    const ELSEWHERE: [(&'static str, Probe); 3] =
        [("between-mat-and-floor", Probe::BetweenMatAndFloor), ("loose", Probe::Loose), ("outside", Probe::Outside)];

    /// The key under which it is written.
    pub fn key(self) -> &'static str {
        match self {
            Probe::At(spot) => spot.key(),
            Probe::BetweenMatAndFloor => "between-mat-and-floor",
            Probe::Loose => "loose",
            Probe::Outside => "outside",
        }
    }

    /// The inverse of [`Probe::key`].
    pub fn from_key(key: &str) -> Option<Probe> {
        let elsewhere = Probe::ELSEWHERE.into_iter().find(|(name, _)| *name == key).map(|(_, probe)| probe);
        elsewhere.or_else(|| Spot::from_key(key).map(Probe::At))
    }
}

/// A heater of an enclosure.
#[derive(Clone, Debug, PartialEq)]
pub struct Heater {
    /// Kind.
    pub kind: HeaterKind,
    /// Power, in W.
    pub watts: Option<f64>,
    /// Its thermostat, where one is named.
    pub thermostat: Option<Thermostat>,
    /// Set point, in °C.
    pub set_c: Option<f64>,
    /// Set point by night where it is another, in °C.
    pub night_set_c: Option<f64>,
    /// Guarded so that the animal cannot touch it.
    pub guarded: Option<bool>,
    /// Inside the enclosure.
    pub inside: Option<bool>,
    /// Where the probe lies.
    pub probe: Option<Probe>,
}

impl Heater {
    /// A heater of which nothing but its kind is known.
    pub fn of(kind: HeaterKind) -> Heater {
        Heater {
            kind,
            watts: None,
            thermostat: None,
            set_c: None,
            night_set_c: None,
            guarded: None,
            inside: None,
            probe: None,
        }
    }
}

impl Recorded for Heater {
    fn read(reader: &mut Reader<'_>) -> Option<Heater> {
        let kind = reader.choice("kind");
        let kind = reader.require("kind", kind);
        let watts = reader.number("watts", Limits::new(0.5, 5_000.0, "watts"));
        let thermostat = reader.choice("thermostat");
        let set_c = reader.number("set_c", Limits::new(0.0, 80.0, "°C"));
        let night_set_c = reader.number("night_set_c", Limits::new(0.0, 80.0, "°C"));
        let guarded = reader.flag("guarded");
        let inside = reader.flag("inside");
        let probe = reader.text("probe").and_then(|text| {
            let probe = Probe::from_key(&text);
            if probe.is_none() {
                let places = Spot::keys().chain(Probe::ELSEWHERE.map(|(name, _)| name)).collect::<Vec<_>>().join(", ");
                reader.object(
                    "probe",
                    format!("`{text}` is no place for a probe (`probe`)"),
                    format!("choose one of: {places}"),
                );
            }
            probe
        });
        Some(Heater { kind: kind?, watts, thermostat, set_c, night_set_c, guarded, inside, probe })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.choice("kind", Some(self.kind));
        sheet.number("watts", self.watts);
        sheet.choice("thermostat", self.thermostat);
        sheet.number("set_c", self.set_c);
        sheet.number("night_set_c", self.night_set_c);
        sheet.flag("guarded", self.guarded);
        sheet.flag("inside", self.inside);
        sheet.text("probe", self.probe.map(Probe::key));
    }
    fn when(&self) -> Option<When> {
        None
    }
}

const ROOM_C: Limits = Limits::new(-30.0, 60.0, "°C");

/// What of the household bears on an animal.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Household {
    /// Other reptiles live in the house.
    pub other_reptiles: Option<bool>,
    /// The animal is apart from them since.
    pub quarantine_from: Option<When>,
    /// An animal of its enclosure or room is sick or has died.
    pub contacts_sick: Option<bool>,
    /// Children under five, or anyone else at risk, live in the house.
    pub young_children: Option<bool>,
    /// Where the house stands: decides law and hemisphere, in the keeper's words.
    pub region: Option<String>,
    /// Usual temperature of the room, in °C.
    pub room_c: Option<f64>,
    /// The room by night, in °C.
    pub room_night_c: Option<f64>,
    /// The room on the coldest days of the year, in °C.
    pub room_winter_c: Option<f64>,
    /// The room on the warmest days of the year, in °C.
    pub room_summer_c: Option<f64>,
    /// Usual relative humidity of the room, in %.
    pub room_pct: Option<f64>,
}

impl Recorded for Household {
    fn read(reader: &mut Reader<'_>) -> Option<Household> {
        Some(Household {
            other_reptiles: reader.flag("other_reptiles"),
            quarantine_from: reader.day("quarantine_from"),
            contacts_sick: reader.flag("contacts_sick"),
            young_children: reader.flag("young_children"),
            region: reader.text("region"),
            room_c: reader.number("room_c", ROOM_C),
            room_night_c: reader.number("room_night_c", ROOM_C),
            room_winter_c: reader.number("room_winter_c", ROOM_C),
            room_summer_c: reader.number("room_summer_c", ROOM_C),
            room_pct: reader.number("room_pct", Limits::new(0.0, 100.0, "% relative humidity")),
        })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.flag("other_reptiles", self.other_reptiles);
        sheet.when("quarantine_from", self.quarantine_from);
        sheet.flag("contacts_sick", self.contacts_sick);
        sheet.flag("young_children", self.young_children);
        sheet.text("region", self.region.as_deref());
        sheet.number("room_c", self.room_c);
        sheet.number("room_night_c", self.room_night_c);
        sheet.number("room_winter_c", self.room_winter_c);
        sheet.number("room_summer_c", self.room_summer_c);
        sheet.number("room_pct", self.room_pct);
    }
    fn when(&self) -> Option<When> {
        None
    }
}

/// A value of the profile that does not hold for this animal, by the keeper's (or a veterinarian's) word.
#[derive(Clone, Debug, PartialEq)]
pub struct Override {
    /// Which value: its path in the profile, such as `temperature.night_min_c`.
    pub path: String,
    /// Low end, in the unit that the path names.
    pub low: f64,
    /// High end, in the unit that the path names.
    pub high: f64,
    /// Why.
    pub reason: String,
}

impl Recorded for Override {
    fn read(reader: &mut Reader<'_>) -> Option<Override> {
        const ANY: Limits = Limits::new(-1e9, 1e9, "the unit that the path names");
        let path = reader.text("path");
        let path = reader.require("path", path);
        let low = reader.number("low", ANY);
        let low = reader.require("low", low);
        let high = reader.number("high", ANY).or(low);
        let reason = reader.text("reason");
        let reason = reader.require("reason", reason);
        if let (Some(low), Some(high)) = (low, high)
            && high < low
        {
            reader.object("high", "`high` lies below `low`", "swap the two");
            return None;
        }
        Some(Override { path: path?, low: low?, high: high?, reason: reason? })
    }
    fn write(&self, sheet: &mut Sheet<'_>) {
        sheet.text("path", Some(&self.path));
        sheet.number("low", Some(self.low));
        sheet.number("high", Some(self.high));
        sheet.text("reason", Some(&self.reason));
    }
    fn when(&self) -> Option<When> {
        None
    }
}
