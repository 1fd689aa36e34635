//! Invented households of any size, the same for the same seed, to measure with. Every animal is called simulated and
//! so is the writer: such records are never taken for a real animal's.

use records::facts::{
    Animal, Cleaning, CleaningTask, Enclosure, Handling, Heater, HeaterKind, Household, Lid, Meal, Means, Measurement,
    Note, Outcome, Period, Prey, PreyState, Probe, Reading, Retained, Sex, Shed, Sign, SignKind, Spot, Stay,
    Thermostat, Weighing,
};
use records::{Fact, RecordId};
use units::time::DAY_S;
use units::{Moment, When, Zone};

use crate::append::{NewRecord, Stamp};
use crate::error::StoreError;
use crate::ids::new_id;
use crate::open::Store;

/// Who writes simulated records.
pub const WRITER: &str = "simulated";

/// The end of every simulated history: 2026-01-01T00:00Z.
pub const END: Moment = Moment(1_767_225_600);

/// So many days are written down at once.
const DAYS_OF_AN_ACT: i64 = 28;

/// Fills a store with `animals` invented animals and `years` years of records of each, about 170 a year; gives the
/// number of records. The same arguments give the same records.
pub fn generate(store: &Store, animals: u32, years: u32, seed: u64) -> Result<u64, StoreError> {
    let zone = Zone::named("Europe/Lisbon").unwrap_or(Zone::none());
    let begins = Moment(END.0 - i64::from(years) * 365 * DAY_S);
    let mut maker = Maker { dice: Dice(seed), zone, made: 0, new: Vec::new() };
    let mut lives = maker.arrivals(animals, begins);
    maker.keep(store, begins)?;
    for day in 0..i64::from(years) * 365 {
        let midnight = Moment(begins.0 + day * DAY_S);
        for life in &mut lives {
            maker.day(life, day, midnight);
        }
        if day % DAYS_OF_AN_ACT == DAYS_OF_AN_ACT - 1 {
            maker.keep(store, midnight)?;
        }
    }
    maker.keep(store, END)?;
    Ok(maker.made)
}

/// Even numbers of one sequence: SplitMix64 (Steele, Lea and Flood 2014, OOPSLA, figure 17).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 until before 1.
    fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Between two numbers, to one tenth.
    fn between(&mut self, low: f64, high: f64) -> f64 {
        ((low + (high - low) * self.share()) * 10.0).round() / 10.0
    }

    fn one_in(&mut self, days: f64) -> bool {
        self.share() * days < 1.0
    }
}

/// One invented animal.
struct Life {
    animal: RecordId,
    enclosure: RecordId,
    born_g: f64,
    grown_g: f64,
    meal_every: i64,
    next_shed: i64,
}

impl Life {
    /// It grows toward its full mass over some three years.
    fn mass_g(&self, day: i64) -> f64 {
        let grown = 1.0 - (-(day as f64) / 500.0).exp();
        self.born_g + (self.grown_g - self.born_g) * grown
    }
}

struct Maker {
    dice: Dice,
    zone: Zone,
    made: u64,
    new: Vec<NewRecord>,
}

impl Maker {
    fn add(&mut self, at: Moment, fact: Fact) -> &mut NewRecord {
        let mut random = [0; 10];
        random.iter_mut().zip(self.dice.next().to_be_bytes()).for_each(|(byte, die)| *byte = die);
        random.iter_mut().rev().zip(self.made.to_le_bytes()).for_each(|(byte, made)| *byte ^= made);
        self.made += 1;
        let at_end = self.new.len();
        self.new.push(NewRecord::new(new_id(at, random), fact));
        &mut self.new[at_end]
    }

    fn keep(&mut self, store: &Store, at: Moment) -> Result<(), StoreError> {
        let stamp = Stamp { recorded_at: at, zone: self.zone.clone(), by: WRITER.to_owned() };
        store.append(&self.new, &stamp)?;
        self.new.clear();
        Ok(())
    }

    fn arrivals(&mut self, animals: u32, at: Moment) -> Vec<Life> {
        let household = Household { region: Some("simulated".to_owned()), room_c: Some(21.0), ..Household::default() };
        self.add(at, Fact::Household(household));
        (0..animals).map(|number| self.arrival(number, at)).collect()
    }

    fn arrival(&mut self, number: u32, at: Moment) -> Life {
        const SPECIES: [(&str, f64, f64); 4] = [
            ("Pantherophis guttatus", 7.0, 650.0),
            ("Python regius", 65.0, 1_700.0),
            ("Lampropeltis californiae", 9.0, 700.0),
            ("Boa imperator", 55.0, 4_500.0),
        ];
        let (species, born_g, grown_g) = SPECIES[self.dice.next() as usize % SPECIES.len()];
        let day = self.zone.day(self.zone.date(at));
        let enclosure = Enclosure {
            name: Some(format!("S{:04}", number + 1)),
            room: Some(format!("simulated room {}", 1 + number / 40)),
            walk: Some(f64::from(number % 40)),
            length_cm: Some(120.0),
            width_cm: Some(60.0),
            height_cm: Some(60.0),
            lid: Some(Lid::Solid),
            hides: Some(2),
            locks: Some(true),
            ..Enclosure::default()
        };
        let enclosure = self.add(at, Fact::Enclosure(enclosure)).id;
        let heater = Heater {
            watts: Some(80.0),
            thermostat: Some(Thermostat::Pulse),
            set_c: Some(31.0),
            guarded: Some(true),
            inside: Some(true),
            probe: Some(Probe::At(Spot::WarmAir)),
            ..Heater::of(HeaterKind::Panel)
        };
        self.add(at, Fact::Heater(heater)).enclosure = Some(enclosure);
        let sex = if self.dice.one_in(2.0) { Sex::Female } else { Sex::Male };
        let animal = Animal {
            species: species.to_owned(),
            family: None,
            name: Some(format!("Simulated {:04}", number + 1)),
            hatched: Some(day),
            age_months: None,
            sex: Some(sex),
            arrived: Some(day),
            stage: None,
            wild_caught: Some(false),
            used_to_handling: None,
            never_fed: None,
            complete_since: Some(day),
        };
        let animal = self.add(at, Fact::Animal(animal)).id;
        self.add(at, Fact::Stay(Stay { at: day, enclosure })).animal = Some(animal);
        let note = Note { at: day, text: "simulated: no real animal".to_owned() };
        self.add(at, Fact::Note(note)).animal = Some(animal);
        let meal_every = 6 + (self.dice.next() % 3) as i64;
        let next_shed = 20 + (self.dice.next() % 20) as i64;
        let grown_g = (grown_g * self.dice.between(0.7, 1.3)).round();
        Life { animal, enclosure, born_g, grown_g, meal_every, next_shed }
    }

    fn about(&mut self, life: &Life, at: Moment, fact: Fact) {
        self.add(at, fact).animal = Some(life.animal);
    }

    /// What a keeper writes down on one day about one animal.
    fn day(&mut self, life: &mut Life, day: i64, midnight: Moment) {
        let evening = Moment(midnight.0 + 19 * 3_600 + (self.dice.next() % 120) as i64 * 60);
        let at = When::exactly(evening);
        let mass_g = (life.mass_g(day) * 10.0).round() / 10.0;
        let in_shed = (life.next_shed - 12..=life.next_shed).contains(&day);
        if day % life.meal_every == 0 && 7 <= day && !(in_shed && self.dice.one_in(1.5)) {
            self.meal(life, at, mass_g, in_shed);
        }
        if day % 30 == 5 {
            self.about(life, evening, Fact::Weighing(Weighing { at, mass_g, estimated: false, body_score: None }));
        }
        if day % 180 == 5 {
            let length = 20.0 * mass_g.powf(0.33).max(1.0);
            let total_length_cm = Some(length.round());
            let measurement = Measurement { at, total_length_cm, snout_vent_cm: None, girth_cm: None };
            self.about(life, evening, Fact::Measurement(measurement));
        }
        if day == life.next_shed {
            self.shed(life, day, at);
        }
        if day % 5 == 0 {
            self.chore(life, at, CleaningTask::Water);
        }
        if self.dice.one_in(20.0) {
            self.chore(life, at, CleaningTask::Spot);
        }
        if day % 90 == 45 {
            self.chore(life, at, CleaningTask::Full);
        }
        if self.dice.one_in(40.0) {
            let minutes = Some(self.dice.between(5.0, 20.0).round());
            self.about(life, evening, Fact::Handling(Handling { at, minutes }));
        }
        if day % 30 == 10 {
            self.reading(life, at);
        }
        if self.dice.one_in(900.0) {
            let sign = Sign { at, sign: SignKind::Wheezing, grade: None, cleared_at: None, note: None };
            self.about(life, evening, Fact::Sign(sign));
        }
    }

    fn chore(&mut self, life: &Life, at: When, task: CleaningTask) {
        self.add(at.from, Fact::Cleaning(Cleaning { at, task })).enclosure = Some(life.enclosure);
    }

    fn meal(&mut self, life: &Life, at: When, mass_g: f64, in_shed: bool) {
        let refused = self.dice.one_in(if in_shed { 2.0 } else { 15.0 });
        let prey_g = (mass_g * self.dice.between(0.08, 0.13)).clamp(1.5, 250.0);
        let meal = Meal {
            at,
            prey: Some(if prey_g < 25.0 { Prey::MouseAdult } else { Prey::RatWeaned }),
            mass_g: Some((prey_g * 10.0).round() / 10.0),
            count: 1,
            outcome: if refused { Outcome::Refused } else { Outcome::Taken },
            regurgitated_at: None,
            state: Some(PreyState::FrozenThawed),
            surface_c: None,
            minutes_left: None,
            thawed: None,
            frozen_on: None,
            refrozen: false,
        };
        self.about(life, at.from, Fact::Meal(meal));
    }

    fn shed(&mut self, life: &mut Life, day: i64, at: When) {
        let whole = !self.dice.one_in(12.0);
        let before = |days: i64| Some(When::exactly(Moment(at.from.0 - days * DAY_S)));
        let shed = Shed {
            dull_at: before(11),
            blue_at: before(9),
            cleared_at: before(4),
            shed_at: Some(at),
            pieces: Some(if whole { 1 } else { 4 }),
            retained: if whole { Vec::new() } else { vec![Retained::TailTip] },
        };
        self.about(life, at.from, Fact::Shed(shed));
        let apart = 28.0 + 40.0 * (1.0 - (-(day as f64) / 700.0).exp());
        life.next_shed = day + (apart * (0.85 + 0.3 * self.dice.share())).round() as i64;
    }

    fn reading(&mut self, life: &Life, at: When) {
        for (spot, low, high) in [(Spot::WarmSurface, 30.0, 33.5), (Spot::CoolAir, 23.0, 26.5)] {
            let reading = Reading {
                at,
                spot,
                temperature_c: Some(self.dice.between(low, high)),
                humidity_pct: Some(self.dice.between(40.0, 65.0).round()),
                period: Some(Period::Night),
                means: Means::SpotCheck,
                hours: None,
            };
            self.add(at.from, Fact::Reading(reading)).enclosure = Some(life.enclosure);
        }
    }
}
