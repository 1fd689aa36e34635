//! An answer made by hand, with something of everything in it.

use std::borrow::Cow;

use care::answer::{DateRange, Severity, SourceRef};
use care::what_if::{
    Amount, AtSpot, Basis, Cell, Checked, Curve, Dated, Guess, Limit, Point, Question, Range, Reckoning, Step, Table,
    Unit, Warning,
};
use records::facts::Spot;
use species::Status;
use units::{Moment, Zone};

pub fn zone() -> Zone {
    Zone::named("Europe/Lisbon").unwrap()
}

pub fn now() -> Moment {
    zone().read("2027-01-20T19:30").unwrap().from
}

fn from_memory(key: &'static str) -> SourceRef {
    SourceRef { key: Cow::Borrowed(key), status: Status::FromMemory }
}

fn range(low: f64, mid: f64, high: f64) -> Range {
    Range { low, mid, high }
}

fn cooling(key: &'static str, says: &str, from: f64, to: f64, unit: Unit) -> Curve {
    let point = |index: i32| {
        let hours = f64::from(index) / 4.0;
        let value = |rate: f64| to + (from - to) * (-hours * rate).exp();
        Point { minutes: hours * 60.0, range: range(value(0.7), value(0.45), value(0.3)) }
    };
    Curve { key, says: says.into(), unit, points: (0..=32).map(point).collect() }
}

/// A power cut on a winter evening.
pub fn power_cut() -> Reckoning {
    let mut answer =
        Reckoning::to(Question::PowerCut, Basis::Fitted { from: now().plus_days(-3.0), until: now(), rms_k: 0.42 });
    answer.says = vec![
        "The warm surface is below 24 °C after about 3 hours (2 to 5).".into(),
        "A blanket buys about an hour.".into(),
    ];
    answer.warnings = vec![
        Warning {
            key: "meal-inside",
            severity: Severity::Act,
            says: "Moss digests a meal: it may come up again below 24 °C.".into(),
            does: "Keep this enclosure warm first.".into(),
            source: Some(from_memory("review")),
            caution: Some("heat-and-fire"),
        },
        Warning {
            key: "room-cold",
            severity: Severity::Note,
            says: "The room is colder than usual.".into(),
            does: "Close its door.".into(),
            source: None,
            caution: None,
        },
    ];
    answer.dates = vec![Dated {
        key: "power-back",
        says: "the power is likely back".into(),
        range: DateRange { low: now().plus_hours(2.0), mid: now().plus_hours(30.0), high: now().plus_days(4.0) },
    }];
    answer.checks = vec![
        Checked {
            key: "fuse",
            asks: "Is it the fuse?".into(),
            verdict: "in order",
            stands_out: false,
            says: "The fuse was changed on 3 Jan.".into(),
            does: None,
            source: None,
        },
        Checked {
            key: "neighbours",
            asks: "Have the neighbours light?".into(),
            verdict: "not known",
            stands_out: true,
            says: "Nothing is noted.".into(),
            does: Some("Look out of the window.".into()),
            source: Some(from_memory("review")),
        },
    ];
    answer.amounts = vec![
        Amount::new("hours-to-limit", "until the warm surface is too cold", range(2.1, 3.2, 5.4), Unit::Hours)
            .at(Some(Spot::WarmSurface)),
        Amount::new("hours-with-battery", "with the battery", range(9.0, f64::INFINITY, f64::INFINITY), Unit::Hours),
    ];
    answer.spots = vec![
        AtSpot {
            spot: Spot::WarmSurface,
            temperature_c: Some(range(31.2, 32.4, 34.1)),
            humidity_pct: None,
            measured_c: Some(32.1),
            wanted_c: Some((31.0, 33.0)),
        },
        AtSpot {
            spot: Spot::CoolAir,
            temperature_c: Some(range(22.0, 24.0, 25.0)),
            humidity_pct: Some(range(48.0, 55.0, 63.0)),
            measured_c: None,
            wanted_c: None,
        },
    ];
    answer.curves = vec![
        cooling("warm-surface", "warm surface", 32.0, 17.0, Unit::Celsius),
        cooling("cool-air", "cool air", 24.0, 17.0, Unit::Celsius),
        cooling("humidity", "humidity of the cool air", 65.0, 50.0, Unit::Humidity),
    ];
    answer.limits = vec![
        Limit { says: "too cold with a meal inside".into(), value: 24.0, source: from_memory("review") },
        Limit { says: "skin burns".into(), value: 55.0, source: from_memory("review") },
    ];
    answer.tables = vec![Table {
        key: "what-helps",
        says: "What helps".into(),
        columns: vec![("what", "Help".into()), ("hours", "Hours left".into()), ("watch", "Watch".into())],
        rows: vec![
            vec![
                Cell::Says("blanket".into()),
                Cell::Is(range(3.0, 4.2, 6.0), Unit::Hours),
                Cell::Says("leave air holes free".into()),
            ],
            vec![Cell::Says("bottles".into()), Cell::Is(range(5.0, 6.5, 8.0), Unit::Hours), Cell::Nothing],
        ],
    }];
    answer.steps = vec![
        Step {
            at: Some(Moment(now().0 + 15 * 60)),
            does: "Lay a blanket over S1, air holes free.".into(),
            because: "It buys about an hour.".into(),
        },
        Step { at: None, does: "Fill two bottles.".into(), because: String::new() },
    ];
    answer.guesses = vec![
        Guess {
            key: "wall-thickness",
            says: "thickness of the walls".into(),
            range: range(4.0, 8.0, 12.0),
            unit: Unit::Millimetres,
            weight: 0.61,
            source: from_memory("review"),
            field: Some("wall_mm"),
        },
        Guess {
            key: "emissivity",
            says: "emissivity of the floor".into(),
            range: range(0.9, 0.94, 0.97),
            unit: Unit::Number,
            weight: 0.003,
            source: from_memory("review"),
            field: None,
        },
    ];
    answer.untold = vec!["How warm the hide is: nobody measured there.".into()];
    answer.cautions = vec!["heat-and-fire"];
    answer.sources = vec![from_memory("review")];
    answer
}

/// The same with every text as hostile as it can be.
pub fn hostile() -> Reckoning {
    const TEXT: &str = "</script><img src=x onerror=alert(1)> \"'&";
    let mut answer = power_cut();
    let texts = answer
        .says
        .iter_mut()
        .chain(answer.warnings.iter_mut().flat_map(|one| [&mut one.says, &mut one.does]))
        .chain(answer.amounts.iter_mut().map(|one| &mut one.says))
        .chain(answer.curves.iter_mut().map(|one| &mut one.says))
        .chain(answer.limits.iter_mut().map(|one| &mut one.says))
        .chain(answer.steps.iter_mut().flat_map(|one| [&mut one.does, &mut one.because]))
        .chain(answer.guesses.iter_mut().map(|one| &mut one.says))
        .chain(answer.untold.iter_mut());
    for text in texts {
        *text = TEXT.into();
    }
    for table in &mut answer.tables {
        table.says = TEXT.into();
        for (_, says) in &mut table.columns {
            *says = TEXT.into();
        }
        for cell in table.rows.iter_mut().flatten() {
            *cell = Cell::Says(TEXT.into());
        }
    }
    answer
}
