//! Who lives in the made-up household, and what happened there. Every name is invented.

use records::choice::Choice;
use records::facts::{
    Animal, Cleaning, CleaningTask, Enclosure, FreezerLot, Grade, Handling, Heater, HeaterKind, Household, Lid, Meal,
    Means, Measurement, Note, Outcome, Period, Planned, PlannedWhat, Prey, PreyState, Probe, Reading, Seen, Sex, Shed,
    Sign, SignKind, Spot, Stay, Thawing, Thermostat, Weighing,
};
use records::{Fact, RecordId};
use species::{Figures, Profile};

use super::story::Story;

const STUDY: &str = "study";
const BACK_ROOM: &str = "back room";
/// The records of the household begin so many days back.
const BEGINS: i64 = 760;

/// An animal with its enclosure.
struct Lives {
    animal: RecordId,
    enclosure: RecordId,
    profile: &'static Profile,
}

/// Tells it all.
pub fn tell(story: &mut Story) {
    let house = Household { young_children: Some(false), ..Household::default() };
    story.tell(BEGINS, |new| new, Fact::Household(house));
    hatchling(story);
    growing(story);
    in_blue(story);
    old(story);
    fasting(story);
    content(story);
    newcomer(story);
    wheezing(story);
    freezer(story);
    let away = Planned {
        from: story.day(-16),
        until: Some(story.day(-19)),
        sitter: Some(true),
        what: PlannedWhat::KeeperAway,
    };
    story.tell(2, |new| new, Fact::Planned(away));
}

/// What is fixed of an animal and its place.
struct Cast {
    name: &'static str,
    species: &'static str,
    sex: Sex,
    hatched_back: i64,
    arrived_back: Option<i64>,
    place: &'static str,
    room: &'static str,
    walk: f64,
    size_cm: [f64; 3],
    lid: Lid,
    /// Humidity read in the last days, where it is not the middle of what the species needs.
    humidity_pct: Option<f64>,
    /// Hours since the water was changed.
    water_h: i64,
}

fn profile(name: &str) -> Option<&'static Profile> {
    match species::library().find(name) {
        species::Found::One(profile) => Some(profile),
        _ => None,
    }
}

fn middle(figures: &Figures) -> f64 {
    let value = figures.first().map_or(0.0, species::Figure::middle);
    (value * 10.0).round() / 10.0
}

/// The animal, its enclosure, its heater, its chores and its readings.
fn move_in(story: &mut Story, cast: &Cast) -> Option<Lives> {
    let profile = profile(cast.species)?;
    let since = cast.arrived_back.map_or(cast.hatched_back, |back| back).min(BEGINS);
    let [length, width, height] = cast.size_cm;
    let enclosure = story.tell(
        since + 1,
        |new| new,
        Fact::Enclosure(Enclosure {
            name: Some(cast.place.to_owned()),
            room: Some(cast.room.to_owned()),
            walk: Some(cast.walk),
            length_cm: Some(length),
            width_cm: Some(width),
            height_cm: Some(height),
            material: Some("wood".to_owned()),
            lid: Some(cast.lid),
            substrate: Some("aspen".to_owned()),
            hides: Some(2),
            humid_hide: Some(cast.humidity_pct.is_none()),
            locks: Some(true),
            gaps: Some(false),
            floor_wet: Some(false),
            ..Enclosure::default()
        }),
    );
    let warm = middle(&profile.temperature.basking_surface_c);
    let heater = Heater {
        watts: Some(50.0),
        thermostat: Some(Thermostat::Pulse),
        set_c: Some(warm),
        guarded: Some(true),
        inside: Some(true),
        probe: Some(Probe::At(Spot::WarmSurface)),
        ..Heater::of(HeaterKind::Panel)
    };
    story.tell(since, |new| new.at(enclosure), Fact::Heater(heater));
    let common = profile.common_names.first().unwrap_or(&profile.scientific_name);
    let animal = story.tell(
        since,
        |new| new,
        Fact::Animal(Animal {
            species: common.clone(),
            family: None,
            name: Some(cast.name.to_owned()),
            hatched: Some(if cast.hatched_back < BEGINS {
                story.day(cast.hatched_back)
            } else {
                story.month(cast.hatched_back)
            }),
            age_months: None,
            sex: Some(cast.sex),
            arrived: cast.arrived_back.map(|back| story.day(back)),
            stage: None,
            wild_caught: Some(false),
            used_to_handling: None,
            never_fed: None,
            complete_since: None,
        }),
    );
    let moved = Stay { at: story.day(since), enclosure };
    story.tell(since, |new| new.about(animal), Fact::Stay(moved));
    let lives = Lives { animal, enclosure, profile };
    chores(story, &lives, since, cast.water_h);
    readings(story, &lives, since, cast.humidity_pct);
    Some(lives)
}

fn chores(story: &mut Story, lives: &Lives, since: i64, water_h: i64) {
    const LAST_DAYS: i64 = 14;
    let enclosure = lives.enclosure;
    let done = |story: &mut Story, at, task| {
        story.tell(0, |new| new.at(enclosure), Fact::Cleaning(Cleaning { at, task }));
    };
    for back in 1..LAST_DAYS.min(since) {
        let at = story.hours_ago(water_h + 24 * back);
        done(story, at, CleaningTask::Water);
    }
    let at = story.hours_ago(water_h);
    done(story, at, CleaningTask::Water);
    for back in 1..since.min(LAST_DAYS) {
        let at = story.hour(back, 18);
        done(story, at, CleaningTask::Spot);
    }
    let at = story.hours_ago(water_h);
    done(story, at, CleaningTask::Spot);
    for back in (12..since.min(120)).step_by(28) {
        let at = story.day(back);
        done(story, at, CleaningTask::Full);
    }
    let at = story.hours_ago(water_h);
    story.tell(0, |new| new.about(lives.animal), Fact::Seen(Seen { at }));
}

fn readings(story: &mut Story, lives: &Lives, since: i64, humidity_pct: Option<f64>) {
    let needs = &lives.profile.temperature;
    let humidity = humidity_pct.unwrap_or_else(|| middle(&lives.profile.humidity.normal_pct));
    for back in 1..4.min(since) {
        for (spot, temperature_c, humidity_pct) in [
            (Spot::WarmSurface, Some(middle(&needs.basking_surface_c)), None),
            (Spot::WarmAir, Some(middle(&needs.warm_ambient_c)), None),
            (Spot::CoolAir, Some(middle(&needs.cool_ambient_c)), Some(humidity)),
        ] {
            let at = story.hours_ago(24 * back - 21);
            let reading =
                Reading { at, spot, temperature_c, humidity_pct, period: None, means: Means::SpotCheck, hours: None };
            story.tell(back, |new| new.at(lives.enclosure), Fact::Reading(reading));
        }
        let night = Reading {
            at: story.hour(back, 6),
            spot: Spot::CoolAir,
            temperature_c: Some(middle(&needs.night_min_c) + 0.5),
            humidity_pct: None,
            period: Some(Period::Night),
            means: Means::Minimum,
            hours: Some(8.0),
        };
        story.tell(back, |new| new.at(lives.enclosure), Fact::Reading(night));
    }
}

fn weigh(story: &mut Story, lives: &Lives, back: i64, mass_g: f64) {
    let mass_g = if mass_g < 100.0 { (mass_g * 10.0).round() / 10.0 } else { mass_g.round() };
    let at = story.hour(back, 17);
    story.tell(
        back,
        |new| new.about(lives.animal),
        Fact::Weighing(Weighing { at, mass_g, estimated: false, body_score: None }),
    );
}

fn measure(story: &mut Story, lives: &Lives, back: i64, length_cm: f64, girth_cm: f64) {
    let at = story.day(back);
    let lengths = Measurement { at, total_length_cm: Some(length_cm), snout_vent_cm: None, girth_cm: Some(girth_cm) };
    story.tell(back, |new| new.about(lives.animal), Fact::Measurement(lengths));
}

/// The class of an animal's prey that is sold with this mass.
fn class_of(animal: &str, grams: f64) -> Option<Prey> {
    let mut classes: Vec<_> = species::library().prey.iter().filter(|class| class.animal == animal).collect();
    classes.sort_by(|a, b| {
        let high = |class: &species::PreyClass| class.mass_g.as_ref().map_or(f64::INFINITY, |mass| mass.high);
        high(a).total_cmp(&high(b))
    });
    let fits = classes.into_iter().find(|class| class.mass_g.as_ref().is_some_and(|mass| grams <= mass.high));
    fits.and_then(|class| Prey::from_key(&class.key))
}

fn feed(story: &mut Story, lives: &Lives, back: i64, prey: &str, mass_g: f64, outcome: Outcome) {
    let mass_g = if mass_g < 10.0 { (mass_g * 10.0).round() / 10.0 } else { mass_g.round() };
    let meal = Meal {
        at: story.hour(back, 20),
        prey: class_of(prey, mass_g),
        mass_g: Some(mass_g),
        count: 1,
        outcome,
        regurgitated_at: None,
        state: Some(PreyState::FrozenThawed),
        surface_c: None,
        minutes_left: None,
        thawed: Some(Thawing::Fridge),
        frozen_on: None,
        refrozen: false,
    };
    story.tell(back, |new| new.about(lives.animal), Fact::Meal(meal));
}

fn shed(story: &mut Story, lives: &Lives, back: i64, blue_days: i64) {
    let shed = Shed {
        blue_at: Some(story.day(back + 3 + blue_days)),
        shed_at: Some(story.day(back)),
        pieces: Some(1),
        ..Shed::default()
    };
    story.tell(back, |new| new.about(lives.animal), Fact::Shed(shed));
}

fn see(story: &mut Story, lives: &Lives, hours: i64, sign: SignKind, grade: Grade) {
    let seen = Sign { at: story.hours_ago(hours), sign, grade: Some(grade), cleared_at: None, note: None };
    story.tell(0, |new| new.about(lives.animal), Fact::Sign(seen));
}

/// Fern, a corn snake hatched in the house, due for a meal today.
fn hatchling(story: &mut Story) {
    const OLD: i64 = 110;
    let cast = Cast {
        name: "Fern",
        species: "Pantherophis guttatus",
        sex: Sex::Unknown,
        hatched_back: OLD,
        arrived_back: None,
        place: "S1",
        room: STUDY,
        walk: 1.0,
        size_cm: [45.0, 30.0, 25.0],
        lid: Lid::PartMesh,
        humidity_pct: None,
        water_h: 22,
    };
    let Some(lives) = move_in(story, &cast) else { return };
    let mass = |back: i64| 6.4 + 9.8 * (OLD - back) as f64 / OLD as f64;
    shed(story, &lives, OLD - 10, 2);
    for back in (7..=OLD - 14).step_by(6) {
        feed(story, &lives, back, "mouse", (mass(back) * 0.13).max(1.0), Outcome::Taken);
    }
    for back in (8..=OLD - 3).step_by(12) {
        weigh(story, &lives, back, mass(back));
    }
    for back in [OLD - 38, OLD - 68, 14] {
        shed(story, &lives, back, 2);
    }
}

/// Moss, a ball python with two years of weights, due for a meal today.
fn growing(story: &mut Story) {
    const OLD: i64 = 800;
    let cast = Cast {
        name: "Moss",
        species: "Python regius",
        sex: Sex::Female,
        hatched_back: OLD,
        arrived_back: Some(740),
        place: "S2",
        room: STUDY,
        walk: 2.0,
        size_cm: [120.0, 60.0, 50.0],
        lid: Lid::Solid,
        humidity_pct: None,
        water_h: 3,
    };
    let Some(lives) = move_in(story, &cast) else { return };
    // Gompertz: 80 g at two months, 850 g at two years and two months.
    let mass = |back: i64| 1_300.0 * (-3.254 * (-0.002_577 * (OLD - back) as f64).exp()).exp();
    let mut back = 13;
    while back < 726 {
        let is_small = mass(back) < 340.0;
        let outcome = if back % 97 < 7 { Outcome::Refused } else { Outcome::Taken };
        feed(story, &lives, back, "rat", mass(back) * if is_small { 0.11 } else { 0.08 }, outcome);
        // Weighed on the day before a meal, when the gut is empty.
        let off = [0.0, 0.004, -0.003, 0.002, -0.004][(back % 5).unsigned_abs() as usize];
        weigh(story, &lives, back + 1, mass(back) * (1.0 + off));
        back += if is_small { 9 } else { 12 };
    }
    weigh(story, &lives, 2, mass(2));
    for back in (25..720).step_by(42) {
        shed(story, &lives, back, 4);
    }
    for (back, length_cm) in [(700, 52.0), (500, 74.0), (300, 92.0), (60, 108.0)] {
        measure(story, &lives, back, length_cm, length_cm * 0.115);
    }
    for back in [33, 45, 58] {
        let at = story.hour(back, 19);
        story.tell(back, |new| new.about(lives.animal), Fact::Handling(Handling { at, minutes: Some(12.0) }));
    }
}

/// Wren, a kingsnake in blue whose air is too dry.
fn in_blue(story: &mut Story) {
    let cast = Cast {
        name: "Wren",
        species: "Lampropeltis californiae",
        sex: Sex::Female,
        hatched_back: 2_300,
        arrived_back: Some(2_100),
        place: "S3",
        room: STUDY,
        walk: 3.0,
        size_cm: [120.0, 60.0, 50.0],
        lid: Lid::Mesh,
        humidity_pct: Some(29.0),
        water_h: 3,
    };
    let Some(lives) = move_in(story, &cast) else { return };
    for back in (9..=400).step_by(14) {
        feed(story, &lives, back, "mouse", 32.0, Outcome::Taken);
    }
    for back in (22..=390).step_by(46) {
        weigh(story, &lives, back, 640.0 - back as f64 * 0.05);
    }
    measure(story, &lives, 90, 112.0, 10.5);
    for back in (62..=370).step_by(63) {
        shed(story, &lives, back, 4);
    }
    let blue = Shed { dull_at: Some(story.day(4)), blue_at: Some(story.day(1)), ..Shed::default() };
    story.tell(1, |new| new.about(lives.animal), Fact::Shed(blue));
}

/// Bracken, a corn snake in old age, whose water is due.
fn old(story: &mut Story) {
    let cast = Cast {
        name: "Bracken",
        species: "Pantherophis guttatus",
        sex: Sex::Male,
        hatched_back: 6_300,
        arrived_back: Some(6_000),
        place: "S4",
        room: STUDY,
        walk: 4.0,
        size_cm: [140.0, 60.0, 60.0],
        lid: Lid::Solid,
        humidity_pct: None,
        water_h: 30,
    };
    let Some(lives) = move_in(story, &cast) else { return };
    for back in (8..=700).step_by(16) {
        feed(story, &lives, back, "mouse", 30.0, Outcome::Taken);
    }
    for back in (22..=700).step_by(48) {
        weigh(story, &lives, back, 612.0 + (back % 7) as f64);
    }
    measure(story, &lives, 120, 128.0, 11.0);
    for back in (31..=690).step_by(88) {
        shed(story, &lives, back, 4);
    }
    let note = Note { at: story.day(200), text: "Slower than last year, sheds well, climbs less.".to_owned() };
    story.tell(200, |new| new.about(lives.animal), Fact::Note(note));
}

/// Does the species fast in the month in which the story ends?
fn fasts_now(story: &Story, profile: &Profile) -> bool {
    let month = story.zone().date(story.now()).month().unsigned_abs();
    let is_southern = care::season::is_southern(story.zone(), None).unwrap_or(false);
    let male = |season: &species::FastingSeason| season.who != species::Who::Female;
    profile.fasting.seasons.iter().filter(|season| male(season)).any(|season| {
        let months = if is_southern { &season.months_south } else { &season.months_north };
        months.contains(&month)
    })
}

/// Sable, who takes nothing in the season in which his kind fasts, and keeps his weight. Outside every season he is in
/// the middle of a short pause.
fn fasting(story: &mut Story) {
    let in_season = ["Python regius", "Pantherophis guttatus"]
        .into_iter()
        .find(|name| profile(name).is_some_and(|one| fasts_now(story, one)));
    let species = in_season.unwrap_or("Python regius");
    let is_python = species == "Python regius";
    let cast = Cast {
        name: "Sable",
        species,
        sex: Sex::Male,
        hatched_back: 2_000,
        arrived_back: Some(1_900),
        place: "S5",
        room: STUDY,
        walk: 5.0,
        size_cm: [130.0, 60.0, 50.0],
        lid: Lid::Solid,
        humidity_pct: None,
        water_h: 22,
    };
    let Some(lives) = move_in(story, &cast) else { return };
    let (mass, prey, prey_g) = if is_python { (1_480.0, "rat", 85.0) } else { (560.0, "mouse", 28.0) };
    let refused: i64 = if in_season.is_some() { 3 } else { 2 };
    let every = if is_python { 16 } else { 13 };
    for turn in 1..=24 {
        let outcome = if turn <= refused { Outcome::Refused } else { Outcome::Taken };
        feed(story, &lives, 4 + every * (turn - 1), prey, prey_g, outcome);
    }
    for turn in 0..12 {
        let back = 3 + every * turn;
        let lost = if turn < refused { 0.003 * (refused - turn) as f64 } else { 0.0 };
        weigh(story, &lives, back, mass * (1.0 - lost));
    }
    measure(story, &lives, 150, 118.0, 14.5);
    for back in (48..=380).step_by(66) {
        shed(story, &lives, back, 4);
    }
}

/// Hazel, a boa for whom everything is as it should be.
fn content(story: &mut Story) {
    let cast = Cast {
        name: "Hazel",
        species: "Boa imperator",
        sex: Sex::Female,
        hatched_back: 1_700,
        arrived_back: Some(1_600),
        place: "S6",
        room: STUDY,
        walk: 6.0,
        size_cm: [190.0, 90.0, 90.0],
        lid: Lid::Solid,
        humidity_pct: None,
        water_h: 3,
    };
    let Some(lives) = move_in(story, &cast) else { return };
    for back in (10..=600).step_by(24) {
        feed(story, &lives, back, "rat", 190.0, Outcome::Taken);
    }
    for back in (11..=600).step_by(24) {
        weigh(story, &lives, back, 4_100.0 - back as f64 * 0.4);
    }
    measure(story, &lives, 70, 172.0, 22.0);
    for back in (40..=600).step_by(80) {
        shed(story, &lives, back, 5);
    }
}

/// Juniper, a rosy boa that arrived five days ago and is apart from the others.
fn newcomer(story: &mut Story) {
    let cast = Cast {
        name: "Juniper",
        species: "Lichanura trivirgata",
        sex: Sex::Female,
        hatched_back: 900,
        arrived_back: Some(5),
        place: "B1",
        room: BACK_ROOM,
        walk: 1.0,
        size_cm: [90.0, 45.0, 40.0],
        lid: Lid::Solid,
        humidity_pct: None,
        water_h: 3,
    };
    let Some(lives) = move_in(story, &cast) else { return };
    weigh(story, &lives, 5, 231.0);
}

/// Pike, a hognose that wheezes: a call to a veterinarian.
fn wheezing(story: &mut Story) {
    let cast = Cast {
        name: "Pike",
        species: "Heterodon nasicus",
        sex: Sex::Male,
        hatched_back: 1_500,
        arrived_back: Some(1_300),
        place: "B2",
        room: BACK_ROOM,
        walk: 2.0,
        size_cm: [90.0, 45.0, 40.0],
        lid: Lid::Solid,
        humidity_pct: None,
        water_h: 3,
    };
    let Some(lives) = move_in(story, &cast) else { return };
    for back in (6..=400).step_by(10) {
        feed(story, &lives, back, "mouse", 8.0, Outcome::Taken);
    }
    for (turn, back) in (16..=400).step_by(30).enumerate() {
        weigh(story, &lives, back, 112.0 + (turn % 3) as f64);
    }
    measure(story, &lives, 100, 48.0, 8.0);
    for back in (52..=400).step_by(60) {
        shed(story, &lives, back, 3);
    }
    see(story, &lives, 26, SignKind::Wheezing, Grade::Marked);
    see(story, &lives, 4, SignKind::NoseBubbles, Grade::Slight);
}

fn freezer(story: &mut Story) {
    for (class, count, mass_g) in [
        (Prey::MousePinky, 14, 1.8),
        (Prey::MouseHopper, 10, 9.0),
        (Prey::MouseAdult, 16, 28.0),
        (Prey::RatWeaned, 4, 45.0),
        (Prey::RatSmall, 9, 85.0),
        (Prey::RatMedium, 6, 190.0),
    ] {
        let bought = Some(story.day(34));
        let lot = FreezerLot { class, count, mass_g: Some(mass_g), bought };
        story.tell(34, |new| new, Fact::FreezerLot(lot));
    }
}
