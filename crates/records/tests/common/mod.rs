//! Facts made at random, each of them such as a keeper could have written, and a case file that holds them.

use jiff::civil::{Date, date};
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};
use records::choice::Choice;
use records::facts::*;
use records::{Case, Fact, Kind, Raw, RecordId};
use units::{When, Zone};

/// A zone with an hour that is skipped and one that is repeated each year.
pub fn anchorage() -> Zone {
    Zone::named("America/Anchorage").expect("the zone is in the database")
}

fn a_date() -> impl Strategy<Value = Date> {
    (1990i16..2040, 1i8..=12, 1i8..=28).prop_map(|(year, month, day)| date(year, month, day))
}

/// A day, or a minute of one.
fn a_day(zone: &Zone) -> BoxedStrategy<When> {
    let zone = zone.clone();
    (a_date(), of((0i8..24, 0i8..60)))
        .prop_map(move |(date, clock)| match clock {
            Some((hour, minute)) => When::exactly(zone.moment(date.at(hour, minute, 0, 0))),
            None => zone.day(date),
        })
        .boxed()
}

/// A day, a month or a year.
fn a_date_as_known(zone: &Zone) -> BoxedStrategy<When> {
    let (zone, days) = (zone.clone(), a_day(zone));
    let coarse = (a_date(), any::<bool>()).prop_filter_map("in the calendar", move |(date, month)| {
        if month { zone.month(date.year(), date.month()) } else { zone.year(date.year()) }
    });
    prop_oneof![days, coarse].boxed()
}

fn one_of<T: Choice + std::fmt::Debug>() -> impl Strategy<Value = T> {
    select(T::ALL.to_vec())
}

fn words() -> impl Strategy<Value = String> {
    "[a-zA-Zäöüß0-9][a-zA-Zäöüß0-9 ,.;'-]{0,16}[a-zA-Z0-9]"
}

fn between(low: f64, high: f64) -> impl Strategy<Value = f64> {
    prop_oneof![(low..=high), (low.ceil()..=high.floor()).prop_map(f64::round)]
}

fn ordered(mut dates: Vec<When>) -> Vec<When> {
    dates.sort();
    dates
}

/// A fact of any kind.
pub fn a_fact(zone: &Zone) -> BoxedStrategy<Fact> {
    prop_oneof![who(zone), home(), body(zone), feeding(zone), seen(zone), health(zone), plans(zone), fitted(zone)]
        .boxed()
}

fn who(zone: &Zone) -> BoxedStrategy<Fact> {
    let names = (words(), of(words()), of(words()));
    let origin = (of(a_date_as_known(zone)), of(a_date_as_known(zone)), of(a_date_as_known(zone)));
    let flags = (of(any::<bool>()), of(any::<bool>()), of(any::<bool>()));
    let rest = (of(between(0.0, 1_200.0)), of(one_of()), of(one_of()));
    let animal = (names, origin, flags, rest).prop_map(
        |((species, family, name), (mut hatched, mut arrived, complete_since), flags, (age_months, sex, stage))| {
            if let (Some(first), Some(second)) = (hatched, arrived)
                && second.to < first.from
            {
                (hatched, arrived) = (arrived, hatched);
            }
            let (wild_caught, used_to_handling, never_fed) = flags;
            Fact::Animal(Animal {
                species,
                family,
                name,
                hatched,
                age_months,
                sex,
                arrived,
                stage,
                wild_caught,
                used_to_handling,
                never_fed,
                complete_since,
            })
        },
    );
    let stay = (a_day(zone), any::<u128>()).prop_map(|(at, id)| {
        Fact::Stay(Stay { at, enclosure: RecordId::read(&format!("{id:032x}")).expect("32 digits are a UUID") })
    });
    let ending =
        (a_day(zone), one_of(), of(words())).prop_map(|(at, what, note)| Fact::Ending(Ending { at, what, note }));
    prop_oneof![animal, stay, ending].boxed()
}

fn home() -> BoxedStrategy<Fact> {
    let sides = (of(between(5.0, 2_000.0)), of(between(5.0, 2_000.0)), of(between(5.0, 2_000.0)));
    let texts = (of(words()), of(words()), of(words()), of(words()));
    let flags = (of(any::<bool>()), of(any::<bool>()), of(any::<bool>()), of(any::<bool>()));
    let rest = (of(one_of()), of(0u32..=100), of(0u32..=1_000), of(between(0.0, 1e6)));
    let enclosure = (sides, texts, flags, rest).prop_map(|(sides, texts, flags, (lid, hides, cohabitants, walk))| {
        let ((length_cm, width_cm, height_cm), (name, room, material, substrate)) = (sides, texts);
        let (humid_hide, locks, gaps, floor_wet) = flags;
        Fact::Enclosure(Enclosure {
            name,
            room,
            walk,
            length_cm,
            width_cm,
            height_cm,
            material,
            thickness_mm: walk.map(|walk| 0.5 + walk % 99.0),
            lid,
            lid_covered_pct: walk.map(|walk| walk % 100.0),
            stands_on: lid.map(|_| Stand::Foam),
            substrate,
            substrate_cm: length_cm.map(|side| side % 60.0),
            bowl_cm: width_cm.map(|side| 2.0 + side % 140.0),
            hides,
            humid_hide,
            cohabitants,
            locks,
            gaps,
            floor_wet,
        })
    });
    let probe = prop_oneof![
        one_of::<Spot>().prop_map(Probe::At),
        select(vec![Probe::BetweenMatAndFloor, Probe::Loose, Probe::Outside])
    ];
    let figures = (of(between(0.5, 5_000.0)), of(between(0.0, 80.0)));
    let heater = (one_of(), figures, of(one_of()), of(any::<bool>()), of(any::<bool>()), of(probe)).prop_map(
        |(kind, (watts, set_c), thermostat, guarded, inside, probe)| {
            Fact::Heater(Heater {
                kind,
                watts,
                thermostat,
                set_c,
                night_set_c: set_c.map(|c| c - 3.0).filter(|c| 0.0 <= *c),
                guarded,
                inside,
                probe,
            })
        },
    );
    let value = (words(), -1e9..1e9_f64, 0.0..1e3_f64, words()).prop_map(|(path, low, more, reason)| {
        Fact::Override(Override { path, low, high: (low + more).min(1e9), reason })
    });
    prop_oneof![enclosure, heater, value].boxed()
}

/// What a log of a week said.
pub fn a_fit(zone: &Zone) -> Fitted {
    let day = |day| zone.day(date(2026, 3, day));
    Fitted {
        at: day(14),
        from: day(7),
        warm_to_room_w_k: 0.71,
        warm_to_room_w_k_sd_pct: 6.0,
        cool_to_room_w_k: 0.64,
        cool_to_room_w_k_sd_pct: 7.5,
        warm_to_cool_w_k: 1.9,
        warm_to_cool_w_k_sd_pct: 12.0,
        warm_kj_k: 14.0,
        warm_kj_k_sd_pct: 9.0,
        cool_kj_k: 11.5,
        cool_kj_k_sd_pct: 10.0,
        heater_share: 0.8,
        heater_share_sd_pct: 0.0,
        watts: 40.0,
        rms_k: 0.21,
        log_rows: 2_016,
    }
}

fn fitted(zone: &Zone) -> BoxedStrategy<Fact> {
    let span = (a_day(zone), a_day(zone)).prop_filter("a span", |(at, from)| at != from);
    let conducts = (between(1e-4, 1e3), between(1e-4, 1e3), between(1e-4, 1e3));
    let holds = (between(1e-3, 1e5), between(1e-3, 1e5));
    let deviations = (between(0.0, 1e4), between(0.0, 1e4), between(0.0, 1e4));
    let rest = (between(0.0, 1.0), between(0.5, 5e3), between(0.0, 50.0), 1u32..=100_000_000);
    (span, conducts, holds, deviations, rest)
        .prop_map(|((at, from), conducts, holds, deviations, (heater_share, watts, rms_k, log_rows))| {
            let (from, at) = if at.to <= from.from { (at, from) } else { (from, at) };
            Fact::Fitted(Fitted {
                at,
                from,
                warm_to_room_w_k: conducts.0,
                warm_to_room_w_k_sd_pct: deviations.0,
                cool_to_room_w_k: conducts.1,
                cool_to_room_w_k_sd_pct: deviations.1,
                warm_to_cool_w_k: conducts.2,
                warm_to_cool_w_k_sd_pct: deviations.2,
                warm_kj_k: holds.0,
                warm_kj_k_sd_pct: deviations.1,
                cool_kj_k: holds.1,
                cool_kj_k_sd_pct: deviations.2,
                heater_share,
                heater_share_sd_pct: deviations.0,
                watts,
                rms_k,
                log_rows,
            })
        })
        .boxed()
}

fn body(zone: &Zone) -> BoxedStrategy<Fact> {
    let weighing = (a_day(zone), between(0.1, 250_000.0), any::<bool>())
        .prop_map(|(at, mass_g, estimated)| Fact::Weighing(Weighing { at, mass_g, estimated, body_score: None }));
    let measurement = (a_day(zone), of(between(1.0, 1_200.0)), of(between(1.0, 1_200.0)), between(0.5, 150.0))
        .prop_map(|(at, total_length_cm, snout_vent_cm, girth)| {
            Fact::Measurement(Measurement { at, total_length_cm, snout_vent_cm, girth_cm: Some(girth) })
        });
    let skin = (subsequence(Retained::ALL.to_vec(), 0..=4), of(1u32..=500));
    let shed = (proptest::collection::vec(a_day(zone), 1..=4), 0usize..4, skin).prop_map(
        |(dates, skip, (retained, pieces))| {
            let mut steps = [None; 4];
            for (step, date) in steps.iter_mut().skip(skip.min(4 - dates.len())).zip(ordered(dates)) {
                *step = Some(date);
            }
            let [dull_at, blue_at, cleared_at, shed_at] = steps;
            let off = shed_at.is_some();
            let (pieces, retained) = (pieces.filter(|_| off), if off { retained } else { Vec::new() });
            Fact::Shed(Shed { dull_at, blue_at, cleared_at, shed_at, pieces, retained })
        },
    );
    prop_oneof![weighing, measurement, shed].boxed()
}

fn feeding(zone: &Zone) -> BoxedStrategy<Fact> {
    let what = (of(one_of()), of(between(0.05, 50_000.0)), 1u32..=500, one_of::<Outcome>());
    let how = (of(one_of()), of(between(-30.0, 120.0)), of(between(0.0, 20_160.0)), of(one_of()));
    let frozen = (of(a_date_as_known(zone)), any::<bool>());
    let times = (a_day(zone), of(a_day(zone)));
    let meal = (times, what, how, frozen).prop_map(
        |(
            (at, up),
            (prey, mass_g, count, outcome),
            (state, surface_c, minutes_left, thawed),
            (frozen_on, refrozen),
        )| {
            let up = up.filter(|up| outcome == Outcome::Regurgitated && at.from <= up.to);
            Fact::Meal(Meal {
                at,
                prey,
                mass_g,
                count,
                outcome,
                regurgitated_at: up,
                state,
                surface_c,
                minutes_left,
                thawed,
                frozen_on,
                refrozen,
            })
        },
    );
    let lot = (one_of(), 0u32..=100_000, of(between(0.05, 50_000.0)), of(a_date_as_known(zone)))
        .prop_map(|(class, count, mass_g, bought)| Fact::FreezerLot(FreezerLot { class, count, mass_g, bought }));
    prop_oneof![meal, lot].boxed()
}

fn seen(zone: &Zone) -> BoxedStrategy<Fact> {
    let handling =
        (a_day(zone), of(between(0.0, 1_440.0))).prop_map(|(at, minutes)| Fact::Handling(Handling { at, minutes }));
    let cleaning = (a_day(zone), one_of()).prop_map(|(at, task)| Fact::Cleaning(Cleaning { at, task }));
    let figures = (between(-90.0, 200.0), of(between(0.0, 100.0)));
    let sense = (of(one_of()), one_of(), of(between(0.0, 8_784.0)));
    let reading = (a_day(zone), one_of(), figures, sense).prop_map(
        |(at, spot, (temperature, humidity_pct), (period, means, hours))| {
            Fact::Reading(Reading { at, spot, temperature_c: Some(temperature), humidity_pct, period, means, hours })
        },
    );
    let seen = a_day(zone).prop_map(|at| Fact::Seen(Seen { at }));
    let note = (a_day(zone), words()).prop_map(|(at, text)| Fact::Note(Note { at, text }));
    prop_oneof![handling, cleaning, reading, seen, note].boxed()
}

fn health(zone: &Zone) -> BoxedStrategy<Fact> {
    let sign = (a_day(zone), one_of(), of(one_of()), of(a_day(zone)), of(words())).prop_map(
        |(at, sign, grade, cleared, note)| {
            Fact::Sign(Sign { at, sign, grade, cleared_at: cleared.filter(|end| at.from <= end.to), note })
        },
    );
    let given = proptest::collection::vec(a_day(zone), 0..4).prop_map(ordered);
    let course = (words(), of(words()), a_day(zone), of(between(1.0, 8_784.0)), of(1u32..=1_000), given).prop_map(
        |(name, prescribed_by, from, every_hours, doses, given)| {
            Fact::Treatment(Treatment { name, prescribed_by, from, every_hours, doses, given })
        },
    );
    let dose = (a_day(zone), words()).prop_map(|(at, treatment)| Fact::Dose(Dose { at, treatment }));
    let breeding = (a_day(zone), one_of(), of(0u32..=500))
        .prop_map(|(at, what, count)| Fact::Breeding(Breeding { at, what, count }));
    prop_oneof![sign, course, dose, breeding].boxed()
}

fn plans(zone: &Zone) -> BoxedStrategy<Fact> {
    let planned =
        (a_day(zone), of(a_day(zone)), of(any::<bool>()), one_of()).prop_map(|(from, until, sitter, what)| {
            Fact::Planned(Planned { from, until: until.filter(|end| from.from <= end.to), sitter, what })
        });
    let power = (a_day(zone), of(a_day(zone)))
        .prop_map(|(from, until)| Fact::Power(Power { from, until: until.filter(|end| from.from <= end.to) }));
    let flags = (of(any::<bool>()), of(any::<bool>()), of(any::<bool>()));
    let household = (flags, of(a_day(zone)), of(words()), of(between(-30.0, 60.0))).prop_map(
        |((other_reptiles, contacts_sick, young_children), quarantine_from, region, room_c)| {
            Fact::Household(Household {
                other_reptiles,
                quarantine_from,
                contacts_sick,
                young_children,
                region,
                room_c,
                room_night_c: room_c,
                room_winter_c: room_c,
                room_summer_c: room_c,
                room_pct: room_c.map(|room_c| room_c + 30.0),
            })
        },
    );
    prop_oneof![planned, power, household].boxed()
}

/// Can a fact stand in a case file, where there may be several of its kind, and come back as it was? Steps of a shed
/// that is not off yet are joined with later ones, so they may not.
pub fn stands_in_a_list(fact: &Fact) -> bool {
    match fact {
        Fact::Shed(shed) => shed.shed_at.is_some(),
        fact => {
            let kind = fact.kind();
            !matches!(kind, Kind::Animal | Kind::Enclosure | Kind::Household | Kind::Stay | Kind::Dose | Kind::Fitted)
        }
    }
}

/// A case file that holds these facts.
pub fn case_file_of(facts: &[Fact], zone: &Zone) -> String {
    let mut text = "[animal]\nspecies = \"python_regius\"\n".to_owned();
    for fact in facts {
        let list = match fact.kind() {
            Kind::FreezerLot => "freezer",
            kind => kind.key(),
        };
        text.push_str(&format!("\n[[{list}]]\n"));
        for (key, value) in fact.fields(zone) {
            let value = match value {
                Raw::Number(number) => format!("{number:?}"),
                Raw::Flag(flag) => flag.to_string(),
                other => format!("{:?}", other.shown()),
            };
            text.push_str(&format!("{key} = {value}\n"));
        }
    }
    text
}

/// The facts of a case, without the animal.
pub fn facts_of(case: &Case) -> Vec<Fact> {
    let line = &case.timeline;
    let mut facts = Vec::new();
    facts.extend(line.weighings.iter().map(|one| Fact::Weighing(one.it.clone())));
    facts.extend(line.measurements.iter().map(|one| Fact::Measurement(one.it.clone())));
    facts.extend(line.meals.iter().map(|one| Fact::Meal(one.it.clone())));
    facts.extend(line.sheds.iter().map(|one| Fact::Shed(one.it.clone())));
    facts.extend(line.handlings.iter().map(|one| Fact::Handling(one.it.clone())));
    facts.extend(line.cleanings.iter().map(|one| Fact::Cleaning(one.it.clone())));
    facts.extend(line.readings.iter().map(|one| Fact::Reading(one.it.clone())));
    facts.extend(line.signs.iter().map(|one| Fact::Sign(one.it.clone())));
    facts.extend(line.breedings.iter().map(|one| Fact::Breeding(one.it.clone())));
    facts.extend(line.power.iter().map(|one| Fact::Power(one.it.clone())));
    facts.extend(line.treatments.iter().map(|one| Fact::Treatment(one.it.clone())));
    facts.extend(line.planned.iter().map(|one| Fact::Planned(one.it.clone())));
    facts.extend(line.seen.iter().map(|one| Fact::Seen(one.it.clone())));
    facts.extend(line.notes.iter().map(|one| Fact::Note(one.it.clone())));
    facts.extend(line.endings.iter().map(|one| Fact::Ending(one.it.clone())));
    facts.extend(case.heaters.iter().map(|one| Fact::Heater(one.it.clone())));
    facts.extend(case.freezer.iter().map(|one| Fact::FreezerLot(one.it.clone())));
    facts.extend(case.overrides.iter().map(|one| Fact::Override(one.it.clone())));
    facts
}

/// A line such as stands in a case file, in order or out of it.
pub fn a_line_of_toml() -> impl Strategy<Value = String> {
    let keys = vec![
        "at",
        "zone",
        "species",
        "mass_g",
        "prey",
        "count",
        "outcome",
        "shed_at",
        "retained",
        "given",
        "from",
        "until",
        "temperature_c",
        "spot",
        "hides",
        "probe",
        "name",
        "pieces",
        "minutes",
        "nonsense",
    ];
    let values = vec![
        "\"2026-03-14\"",
        "2026-03-14T19:30:00Z",
        "12",
        "-0.5",
        "inf",
        "nan",
        "0xff",
        "99999999999999999999",
        "true",
        "\"taken\"",
        "\"rat-fuzzy\"",
        "[]",
        "[1, [2, [3]]]",
        "{ a = { b = 1 } }",
        "\"\"",
        "1_000.5e3",
        "'''",
        "07:30:00",
    ];
    let tables = vec![
        "[animal]",
        "[[animal]]",
        "[[meal]]",
        "[meal]",
        "[[shed]]",
        "[[weighing]]",
        "[enclosure]",
        "[[heater]]",
        "[[reading]]",
        "[[treatment]]",
        "[animal.name]",
        "meal = 3",
        "shed = [1, 2]",
        "zone = [\"UTC\"]",
        "at = {}",
    ];
    prop_oneof![
        3 => (select(keys), select(values)).prop_map(|(key, value)| format!("{key} = {value}")),
        2 => select(tables).prop_map(str::to_owned),
        1 => ".{0,20}",
    ]
}
