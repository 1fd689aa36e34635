//! Makes the small database that the tests keep for each released schema: `cargo run -p store --example make_fixture`
//! writes `tests/fixtures/v<schema>.db`. Made once when a schema is released, and never again.

use std::error::Error;
use std::path::Path;

use records::facts::Subject;
use records::fields::Given;
use records::{Fact, Kind, Raw, Reader, RecordId};
use store::{NewRecord, SCHEMA, Stamp, Store, new_id};
use units::{Moment, Zone};

/// 2026-03-01T12:00Z.
const NOON: Moment = Moment(1_772_366_400);

/// One record of every kind and more of some, as fields are typed.
const RECORDS: &[(Kind, &[(&str, &str)])] = &[
    (
        Kind::Household,
        &[
            ("young_children", "yes"),
            ("region", "simulated"),
            ("room_c", "21.5"),
            ("room_night_c", "18"),
            ("room_winter_c", "16.5"),
            ("room_summer_c", "28"),
            ("room_pct", "45"),
        ],
    ),
    (
        Kind::Heater,
        &[
            ("kind", "mat"),
            ("watts", "20"),
            ("thermostat", "pulse"),
            ("set_c", "31"),
            ("night_set_c", "28.5"),
            ("probe", "warm-surface"),
        ],
    ),
    (Kind::Weighing, &[("at", "2026-01-05"), ("mass_g", "140")]),
    (Kind::Weighing, &[("at", "2026-01-19T19:30"), ("mass_g", "146.5"), ("body_score", "5")]),
    (Kind::Weighing, &[("at", "2026-02-02"), ("mass_g", "149"), ("estimated", "yes")]),
    (Kind::Measurement, &[("at", "2026-01-05"), ("total_length_cm", "71"), ("girth_cm", "6.5")]),
    (
        Kind::Meal,
        &[
            ("at", "2026-01-06T19:00"),
            ("prey", "mouse-hopper"),
            ("mass_g", "9"),
            ("outcome", "taken"),
            ("state", "frozen-thawed"),
            ("surface_c", "37"),
            ("thawed", "warm-water"),
            ("frozen_on", "2025-11"),
        ],
    ),
    (Kind::Meal, &[("at", "2026-01-13"), ("prey", "mouse-hopper"), ("mass_g", "9"), ("outcome", "refused")]),
    (
        Kind::Meal,
        &[("at", "2026-01-20"), ("count", "2"), ("outcome", "regurgitated"), ("regurgitated_at", "2026-01-22")],
    ),
    (
        Kind::Meal,
        &[("at", "2026-02-08"), ("mass_g", "6"), ("outcome", "taken"), ("minutes_left", "30"), ("refrozen", "yes")],
    ),
    (Kind::Shed, &[("dull_at", "2026-02-10"), ("blue_at", "2026-02-12")]),
    (Kind::Shed, &[("shed_at", "2026-02-19"), ("pieces", "3"), ("retained", "tail-tip,left-eye-cap")]),
    (Kind::Cleaning, &[("at", "2026-02-20"), ("task", "water")]),
    (Kind::Cleaning, &[("at", "2026-02-21"), ("task", "spot")]),
    (Kind::Cleaning, &[("at", "2026-02-22"), ("task", "full")]),
    (Kind::Reading, &[("at", "2026-02-20T20:00"), ("spot", "warm-surface"), ("temperature_c", "31.4")]),
    (
        Kind::Reading,
        &[
            ("at", "2026-02-21"),
            ("spot", "cool-air"),
            ("temperature_c", "23"),
            ("humidity_pct", "55"),
            ("period", "night"),
            ("means", "minimum"),
            ("hours", "10"),
        ],
    ),
    (
        Kind::Sign,
        &[
            ("at", "2026-02-19"),
            ("sign", "wrinkled-skin"),
            ("grade", "slight"),
            ("cleared_at", "2026-02-24"),
            ("note", "simulated; \"all\" signs\nare"),
        ],
    ),
    (Kind::Breeding, &[("at", "2026-02-01"), ("what", "paired")]),
    (Kind::Power, &[("from", "2026-02-03T02:00"), ("until", "2026-02-03T05:15")]),
    (
        Kind::Treatment,
        &[
            ("name", "as prescribed"),
            ("prescribed_by", "a veterinarian"),
            ("from", "2026-02-20"),
            ("every_hours", "48"),
            ("doses", "3"),
            ("given", "2026-02-20T09:00,2026-02-22T09:10"),
        ],
    ),
    (Kind::Dose, &[("at", "2026-02-24T09:00"), ("treatment", "as prescribed")]),
    (Kind::Planned, &[("from", "2026-04-03"), ("until", "2026-04-10"), ("sitter", "yes"), ("what", "keeper-away")]),
    (Kind::Seen, &[("at", "2026-02-28T08:00")]),
    (Kind::Note, &[("at", "2026-02-28"), ("text", "simulated: no real animal")]),
    (Kind::FreezerLot, &[("class", "mouse-hopper"), ("count", "40"), ("mass_g", "9"), ("bought", "2025-11")]),
    (
        Kind::Override,
        &[("path", "temperature.night_min_c"), ("low", "20"), ("high", "22.5"), ("reason", "a veterinarian's word")],
    ),
    (
        Kind::Fitted,
        &[
            ("at", "2026-02-21T12:00"),
            ("from", "2026-02-14T12:00"),
            ("warm_to_room_w_k", "0.71"),
            ("warm_to_room_w_k_sd_pct", "6"),
            ("cool_to_room_w_k", "0.64"),
            ("cool_to_room_w_k_sd_pct", "7.5"),
            ("warm_to_cool_w_k", "1.9"),
            ("warm_to_cool_w_k_sd_pct", "12"),
            ("warm_kj_k", "14"),
            ("warm_kj_k_sd_pct", "9"),
            ("cool_kj_k", "11.5"),
            ("cool_kj_k_sd_pct", "10"),
            ("heater_share", "0.8"),
            ("heater_share_sd_pct", "0"),
            ("watts", "20"),
            ("rms_k", "0.21"),
            ("log_rows", "2016"),
        ],
    ),
    (Kind::Ending, &[("at", "2026-02-25"), ("what", "lent"), ("note", "simulated")]),
    (Kind::Ending, &[("at", "2026-02-27"), ("what", "returned")]),
];

fn id(number: u64) -> RecordId {
    let mut random = [0; 10];
    random.iter_mut().rev().zip(number.to_le_bytes()).for_each(|(byte, of_number)| *byte = of_number);
    new_id(NOON, random)
}

fn fact(kind: Kind, fields: &[(&str, &str)]) -> Result<Fact, Box<dyn Error>> {
    let pairs = fields.iter().map(|(key, text)| ((*key).to_owned(), Raw::Text((*text).to_owned()))).collect();
    let given = Given { pairs, origin: "fixture".to_owned() };
    let zone = zone()?;
    let mut reader = Reader::new(&given, &zone);
    let fact = Fact::read(kind, &mut reader);
    match reader.finish().first() {
        None => fact.ok_or_else(|| "nothing was read".into()),
        Some(fault) => Err(fault.to_string().into()),
    }
}

fn zone() -> Result<Zone, Box<dyn Error>> {
    Zone::named("Europe/Lisbon").ok_or_else(|| "no such zone".into())
}

fn fill(store: &Store) -> Result<(), Box<dyn Error>> {
    let stamp = Stamp { recorded_at: NOON, zone: zone()?, by: "simulated".to_owned() };
    let (animal, enclosure) = (id(1), id(2));
    let home = enclosure.to_string();
    let begin = [
        NewRecord::new(
            animal,
            fact(
                Kind::Animal,
                &[
                    ("species", "Pantherophis guttatus"),
                    ("name", "Simulated 1"),
                    ("hatched", "2025-08"),
                    ("sex", "female"),
                    ("arrived", "2025-12-20"),
                ],
            )?,
        ),
        NewRecord::new(
            enclosure,
            fact(
                Kind::Enclosure,
                &[
                    ("name", "S1"),
                    ("room", "east"),
                    ("walk", "1"),
                    ("length_cm", "90"),
                    ("width_cm", "45"),
                    ("height_cm", "45"),
                    ("material", "glass"),
                    ("thickness_mm", "4"),
                    ("lid", "part-mesh"),
                    ("lid_covered_pct", "60"),
                    ("stands_on", "shelf"),
                    ("substrate_cm", "5"),
                    ("bowl_cm", "15"),
                    ("hides", "2"),
                    ("locks", "yes"),
                ],
            )?,
        ),
        NewRecord::new(id(3), fact(Kind::Stay, &[("at", "2025-12-20"), ("enclosure", &home)])?).about(animal),
    ];
    store.append(&begin, &stamp)?;
    for (number, (kind, fields)) in (10..).zip(RECORDS) {
        let new = NewRecord::new(id(number), fact(*kind, fields)?);
        let new = match kind.subject() {
            Subject::Animal => new.about(animal),
            Subject::Enclosure => new.at(enclosure),
            Subject::Household => new,
        };
        store.append(&[new], &stamp)?;
    }
    let handled = fact(Kind::Handling, &[("at", "2026-02-26"), ("minutes", "10")])?;
    store.append(&[NewRecord::new(id(90), handled).about(animal)], &stamp)?;
    store.remove(&[id(90)], "it was another animal", &stamp)?;
    let mended = fact(Kind::Weighing, &[("at", "2026-02-02"), ("mass_g", "152.5")])?;
    store.append(&[NewRecord::new(id(91), mended).instead_of(id(14), "weighed again")], &stamp)?;
    let seen = fact(Kind::Seen, &[("at", "2026-03-01")])?;
    store.append(&[NewRecord::new(id(92), seen).about(animal)], &stamp)?;
    let act = store.last_act(None)?.ok_or("nothing to undo")?;
    store.undo(&act, &stamp)?;
    store.set_setting("zone", Some("Europe/Lisbon"))?;
    Ok(())
}

fn main() -> Result<(), Box<dyn Error>> {
    let store = Store::in_memory()?;
    fill(&store)?;
    let to = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/fixtures/v{SCHEMA}.db"));
    store.backup(&to)?;
    Ok(())
}
