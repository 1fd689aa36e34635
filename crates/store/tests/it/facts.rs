//! Any record of any kind, as a keeper could enter it.

use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;
use records::Fact;
use records::choice::Choice;
use records::facts::*;
use units::{Moment, When, Zone};

const MINUTES_OF_A_CENTURY: i64 = 100 * 365 * 24 * 60;

fn moment() -> impl Strategy<Value = Moment> {
    (0..MINUTES_OF_A_CENTURY).prop_map(|minutes| Moment(minutes * 60))
}

/// Known to the minute or to the day.
fn day(zone: &Zone) -> BoxedStrategy<When> {
    let zone = zone.clone();
    (moment(), any::<bool>())
        .prop_map(move |(at, hour)| if hour { When::exactly(at) } else { zone.day(zone.date(at)) })
        .boxed()
}

/// Known to the minute, day, month or year.
fn date(zone: &Zone) -> BoxedStrategy<When> {
    let zone = zone.clone();
    (moment(), 0..4)
        .prop_map(move |(at, precision)| {
            let date = zone.date(at);
            match precision {
                0 => When::exactly(at),
                1 => zone.day(date),
                2 => zone.month(date.year(), date.month()).unwrap(),
                _ => zone.year(date.year()).unwrap(),
            }
        })
        .boxed()
}

fn choice<T: Choice + std::fmt::Debug>() -> impl Strategy<Value = T> {
    select(T::ALL)
}

fn text() -> impl Strategy<Value = String> {
    "\\PC{1,12}|[a-z\"'\\\\\n\t,;é€]{1,12}"
        .prop_map(|text| text.trim().to_owned())
        .prop_filter("no empty texts", |text| !text.is_empty())
}

/// Any species is a text, and none is empty.
fn animal(zone: &Zone) -> BoxedStrategy<Fact> {
    (
        (text(), of(text()), of(text()), of(date(zone)), of(0.0..1200.0), of(choice())),
        (of(choice()), of(any::<bool>()), of(any::<bool>()), of(any::<bool>()), of(date(zone)), of(0i64..9000)),
        zone_of(zone),
    )
        .prop_map(
            |((species, family, name, hatched, age_months, sex), (stage, wild, used, never, since, after), zone)| {
                let arrived = match (hatched, after) {
                    (Some(hatched), Some(days)) => Some(zone.day(zone.date(Moment(hatched.to.0 + days * 86_400)))),
                    _ => None,
                };
                Fact::Animal(Animal {
                    species,
                    family,
                    name,
                    hatched,
                    age_months,
                    sex,
                    arrived,
                    stage,
                    wild_caught: wild,
                    used_to_handling: used,
                    never_fed: never,
                    complete_since: since,
                })
            },
        )
        .boxed()
}

fn zone_of(zone: &Zone) -> impl Strategy<Value = Zone> + use<> {
    Just(zone.clone())
}

fn enclosure() -> BoxedStrategy<Fact> {
    let side = || of(5.0..2000.0);
    (
        (of(text()), of(text()), of(0.0..1e6), side(), side(), side()),
        (of(text()), of(choice()), of(text()), of(0..100u32), of(any::<bool>())),
        (of(0..1000u32), of(any::<bool>()), of(any::<bool>()), of(any::<bool>())),
        (of(0.5..100.0), of(0.0..100.0), of(choice()), of(0.0..60.0), of(2.0..150.0)),
    )
        .prop_map(|(a, b, c, d)| {
            Fact::Enclosure(Enclosure {
                name: a.0,
                room: a.1,
                walk: a.2,
                length_cm: a.3,
                width_cm: a.4,
                height_cm: a.5,
                material: b.0,
                lid: b.1,
                substrate: b.2,
                hides: b.3,
                humid_hide: b.4,
                cohabitants: c.0,
                locks: c.1,
                gaps: c.2,
                floor_wet: c.3,
                thickness_mm: d.0,
                lid_covered_pct: d.1,
                stands_on: d.2,
                substrate_cm: d.3,
                bowl_cm: d.4,
            })
        })
        .boxed()
}

fn household(zone: &Zone) -> BoxedStrategy<Fact> {
    let room = || of(-30.0..60.0);
    (
        (of(any::<bool>()), of(day(zone)), of(any::<bool>()), of(any::<bool>()), of(text())),
        (room(), room(), room(), room(), of(0.0..100.0)),
    )
        .prop_map(|((other_reptiles, quarantine_from, contacts_sick, young_children, region), room)| {
            Fact::Household(Household {
                other_reptiles,
                quarantine_from,
                contacts_sick,
                young_children,
                region,
                room_c: room.0,
                room_night_c: room.1,
                room_winter_c: room.2,
                room_summer_c: room.3,
                room_pct: room.4,
            })
        })
        .boxed()
}

fn heater() -> BoxedStrategy<Fact> {
    let probe = prop_oneof![
        choice().prop_map(Probe::At),
        Just(Probe::BetweenMatAndFloor),
        Just(Probe::Loose),
        Just(Probe::Outside)
    ];
    let set = (of(0.0..80.0), of(0.0..80.0));
    (choice(), of(0.5..5000.0), of(choice()), set, of(any::<bool>()), of(any::<bool>()), of(probe))
        .prop_map(|(kind, watts, thermostat, (set_c, night_set_c), guarded, inside, probe)| {
            Fact::Heater(Heater { kind, watts, thermostat, set_c, night_set_c, guarded, inside, probe })
        })
        .boxed()
}

fn fitted(zone: &Zone) -> BoxedStrategy<Fact> {
    let zone = zone.clone();
    let conducts = || (1e-4..1e3, 0.0..1e4);
    let holds = || (1e-3..1e5, 0.0..1e4);
    let rest = (0.0..1.0, 0.0..1e4, 0.5..5e3, 0.0..50.0, 1..100_000_000u32);
    ((moment(), 1i64..400), conducts(), conducts(), conducts(), holds(), holds(), rest)
        .prop_map(move |((from, days), to_room, cool_to_room, across, warm, cool, rest)| {
            Fact::Fitted(Fitted {
                at: When::exactly(Moment(from.0 + days * 86_400)),
                from: zone.day(zone.date(from)),
                warm_to_room_w_k: to_room.0,
                warm_to_room_w_k_sd_pct: to_room.1,
                cool_to_room_w_k: cool_to_room.0,
                cool_to_room_w_k_sd_pct: cool_to_room.1,
                warm_to_cool_w_k: across.0,
                warm_to_cool_w_k_sd_pct: across.1,
                warm_kj_k: warm.0,
                warm_kj_k_sd_pct: warm.1,
                cool_kj_k: cool.0,
                cool_kj_k_sd_pct: cool.1,
                heater_share: rest.0,
                heater_share_sd_pct: rest.1,
                watts: rest.2,
                rms_k: rest.3,
                log_rows: rest.4,
            })
        })
        .boxed()
}

fn body(zone: &Zone) -> BoxedStrategy<Fact> {
    let weighing = (day(zone), 0.1..250_000.0, any::<bool>())
        .prop_map(|(at, mass_g, estimated)| Fact::Weighing(Weighing { at, mass_g, estimated, body_score: None }));
    let measurement = (day(zone), of(1.0..1200.0), of(1.0..1200.0), 0.5..150.0, any::<bool>()).prop_map(
        |(at, total_length_cm, snout_vent_cm, girth, told)| {
            let told = told || (total_length_cm.is_none() && snout_vent_cm.is_none());
            let girth_cm = told.then_some(girth);
            Fact::Measurement(Measurement { at, total_length_cm, snout_vent_cm, girth_cm })
        },
    );
    prop_oneof![weighing, measurement].boxed()
}

fn meal(zone: &Zone) -> BoxedStrategy<Fact> {
    (
        (day(zone), of(choice()), of(0.05..50_000.0), 1..500u32, choice(), of(0i64..100)),
        (of(choice()), of(-30.0..120.0), of(0.0..20_160.0), of(choice()), of(date(zone)), any::<bool>()),
    )
        .prop_map(
            |(
                (at, prey, mass_g, count, outcome, up),
                (state, surface_c, minutes_left, thawed, frozen_on, refrozen),
            )| {
                let up = up.filter(|_| outcome == Outcome::Regurgitated);
                let regurgitated_at = up.map(|hours| When::exactly(Moment(at.from.0 + hours * 3600)));
                Fact::Meal(Meal {
                    at,
                    prey,
                    mass_g,
                    count,
                    outcome,
                    regurgitated_at,
                    state,
                    surface_c,
                    minutes_left,
                    thawed,
                    frozen_on,
                    refrozen,
                })
            },
        )
        .boxed()
}

fn shed(zone: &Zone) -> BoxedStrategy<Fact> {
    let zone = zone.clone();
    (moment(), any::<[bool; 4]>(), of(1..500u32), proptest::sample::subsequence(Retained::ALL, 0..=4))
        .prop_map(move |(begins, told, pieces, retained)| {
            let step = |days: i64, told: bool| told.then(|| zone.day(zone.date(Moment(begins.0 + days * 86_400))));
            let off = told[3] || !(told[0] || told[1] || told[2]);
            Fact::Shed(Shed {
                dull_at: step(0, told[0]),
                blue_at: step(3, told[1]),
                cleared_at: step(7, told[2]),
                shed_at: step(10, off),
                pieces: pieces.filter(|_| off),
                retained: if off { retained } else { Vec::new() },
            })
        })
        .boxed()
}

fn chores(zone: &Zone) -> BoxedStrategy<Fact> {
    let handling = (day(zone), of(0.0..1440.0)).prop_map(|(at, minutes)| Fact::Handling(Handling { at, minutes }));
    let cleaning = (day(zone), choice()).prop_map(|(at, task)| Fact::Cleaning(Cleaning { at, task }));
    let seen = day(zone).prop_map(|at| Fact::Seen(Seen { at }));
    let note = (day(zone), text()).prop_map(|(at, text)| Fact::Note(Note { at, text }));
    prop_oneof![handling, cleaning, seen, note].boxed()
}

fn reading(zone: &Zone) -> BoxedStrategy<Fact> {
    (day(zone), choice(), -90.0..200.0, of(0.0..100.0), any::<bool>(), of(choice()), choice(), of(0.0..8784.0))
        .prop_map(|(at, spot, degrees, humidity_pct, told, period, means, hours)| {
            let temperature_c = (told || humidity_pct.is_none()).then_some(degrees);
            Fact::Reading(Reading { at, spot, temperature_c, humidity_pct, period, means, hours })
        })
        .boxed()
}

fn health(zone: &Zone) -> BoxedStrategy<Fact> {
    let sign =
        (day(zone), choice(), of(choice()), of(0i64..100), of(text())).prop_map(|(at, sign, grade, clears, note)| {
            let cleared_at = clears.map(|days| When::exactly(Moment(at.to.0 + days * 86_400)));
            Fact::Sign(Sign { at, sign, grade, cleared_at, note })
        });
    let treatment = (text(), of(text()), day(zone), of(1.0..8784.0), of(1..1000u32), vec(day(zone), 0..4)).prop_map(
        |(name, prescribed_by, from, every_hours, doses, mut given)| {
            given.sort();
            Fact::Treatment(Treatment { name, prescribed_by, from, every_hours, doses, given })
        },
    );
    let dose = (day(zone), text()).prop_map(|(at, treatment)| Fact::Dose(Dose { at, treatment }));
    let breeding =
        (day(zone), choice(), of(0..500u32)).prop_map(|(at, what, count)| Fact::Breeding(Breeding { at, what, count }));
    prop_oneof![sign, treatment, dose, breeding].boxed()
}

fn spans(zone: &Zone) -> BoxedStrategy<Fact> {
    let later = |from: When, days: Option<i64>| days.map(|days| When::exactly(Moment(from.to.0 + days * 86_400)));
    let power =
        (day(zone), of(0i64..9)).prop_map(move |(from, days)| Fact::Power(Power { from, until: later(from, days) }));
    let planned = (day(zone), of(0i64..60), of(any::<bool>()), choice()).prop_map(move |(from, days, sitter, what)| {
        Fact::Planned(Planned { from, until: later(from, days), sitter, what })
    });
    let ending = (day(zone), choice(), of(text())).prop_map(|(at, what, note)| Fact::Ending(Ending { at, what, note }));
    prop_oneof![power, planned, ending].boxed()
}

fn stock(zone: &Zone) -> BoxedStrategy<Fact> {
    let lot = (choice(), 0..100_000u32, of(0.05..50_000.0), of(date(zone)))
        .prop_map(|(class, count, mass_g, bought)| Fact::FreezerLot(FreezerLot { class, count, mass_g, bought }));
    let value = (text(), -1e9..1e9, 0.0..1e9, text()).prop_map(|(path, low, above, reason)| {
        Fact::Override(Override { path, low, high: f64::min(low + above, 1e9), reason })
    });
    prop_oneof![lot, value].boxed()
}

/// Any record, of every kind but a stay (which needs an enclosure).
pub fn fact(zone: &Zone) -> BoxedStrategy<Fact> {
    prop_oneof![
        animal(zone),
        enclosure(),
        household(zone),
        heater(),
        fitted(zone),
        body(zone),
        meal(zone),
        shed(zone),
        chores(zone),
        reading(zone),
        health(zone),
        spans(zone),
        stock(zone),
    ]
    .boxed()
}
