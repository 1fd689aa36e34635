use super::*;
use crate::answer::Severity;
use crate::twin::model::Drive;
use crate::twin::testing::given;
use crate::twin::{Description, Guesses, Model, Spread, Unknown, Values, description};
use crate::what_if::{Basis, Cell, Known, Place, Question, Range, Reckoning};
use records::Fault;
use records::facts::{Enclosure, Fitted, Heater, HeaterKind, Lid, Spot, Thermostat};
use records::import::Answers;
use science::physics::network::{Node, Temperatures};
use science::statistics::normal;
use units::{Celsius, Moment, Seconds, Watts, Zone};

fn read(text: &str) -> Result<LogTable, Vec<Fault>> {
    read_log("log.csv", text.as_bytes(), &Zone::none(), &Answers::default())
}

fn clock(seconds: f64) -> String {
    Zone::none().write(Moment(1_773_500_400 + seconds as i64)).to_string()
}

/// 120 × 60 × 60 of foamed PVC with a panel, as a keeper would describe it.
fn place(fitted: Option<Fitted>) -> Place {
    let enclosure = Enclosure {
        length_cm: Some(120.0),
        width_cm: Some(60.0),
        height_cm: Some(60.0),
        material: Some("PVC".into()),
        lid: Some(Lid::Solid),
        ..Enclosure::default()
    };
    let heater = Heater {
        watts: Some(80.0),
        thermostat: Some(Thermostat::OnOff),
        set_c: Some(27.0),
        night_set_c: Some(24.5),
        ..Heater::of(HeaterKind::Panel)
    };
    Place { enclosure, heaters: vec![heater], fitted, ..Place::default() }
}

fn known(fitted: Option<Fitted>) -> Known {
    Known { place: Some(place(fitted)), ..Known::nothing(Moment(1_773_500_400), Zone::none()) }
}

fn described(fitted: Option<Fitted>) -> Description {
    let typed = given(&[("room_c", "20"), ("species", "ball python")]);
    description::read(&typed, &known(fitted), |_| ()).unwrap().0
}

/// Ways in which the described enclosure may be, some rather far from the middle.
fn truths() -> Vec<Model> {
    let guesses = Guesses::of(&described(None));
    let far = guesses
        .middle()
        .with(Unknown::Thickness, 6.0)
        .with(Unknown::AirChanges, 2.4)
        .with(Unknown::SurfaceFilm, 0.115)
        .with(Unknown::Mixing, 1.6)
        .with(Unknown::HeaterShare, 0.04)
        .with(Unknown::Decor, 20.0)
        .with(Unknown::Substrate, 5.0);
    let sets = guesses.sets(200);
    let some = [3, 47, 120, 199].map(|number| sets[number]);
    let model = |values: &Values| Model::new(&described(None), values).unwrap();
    std::iter::once(&far).chain(&some).map(model).collect()
}

/// Noise of a thermometer, K: normal, standard deviation 0.1 K, always the same.
fn noise(number: usize) -> f64 {
    let share = ((number as f64 * 12.9898).sin() * 43_758.545_3).rem_euclid(1.0);
    0.1 * normal::quantile(share.clamp(1e-4, 1.0 - 1e-4))
}

/// A simulated log of three days at 5 min: the network of a model with its seven nodes and its heater's body, an on/off
/// thermostat in the warm air with a lower set point by night, a room that swings by 1.5 K, noise, rounding to 0.1 K.
fn simulated(truth: &Model) -> String {
    let drives = [Drive::Holds(crate::twin::model::Place::At(Spot::WarmAir), 27.0)];
    let state = truth.settled(&drives, 20.0).unwrap();
    let network = state.network();
    let place = |node| network.place(node).unwrap();
    let (warm, cool) = (place(Node::AirWarm), place(Node::AirCool));
    let mut now = Temperatures::all(network, Celsius::new(20.0).unwrap());
    let mut text = String::from("time,warm_c,cool_c,room_c,heater_on\n");
    let mut is_on = true;
    for step in 0..864usize {
        let hour = step as f64 / 12.0 % 24.0;
        let room_c = 20.0 + 1.5 * (std::f64::consts::TAU * (hour - 9.0) / 24.0).sin();
        let set_c = if (6.0..22.0).contains(&hour) { 27.0 } else { 24.5 };
        let (warm_c, cool_c) = (now.degrees()[warm], now.degrees()[cool]);
        is_on = if set_c + 0.5 < warm_c { false } else { is_on || warm_c < set_c - 0.5 };
        let [warm_c, cool_c] = [warm_c + noise(2 * step), cool_c + noise(2 * step + 1)];
        text.push_str(&format!(
            "{},{warm_c:.1},{cool_c:.1},{room_c:.1},{}\n",
            clock(300.0 * step as f64),
            u8::from(is_on)
        ));
        let power = Watts(if is_on { 80.0 } else { 0.0 });
        now = network.after(&now, &[power], Celsius::new(room_c).unwrap(), Seconds(300.0)).unwrap();
    }
    text
}

fn fitted(truth: &Model) -> (Reckoning, Fitted) {
    let (answer, fitted) = fit_log(&read(&simulated(truth)).unwrap(), &known(None), None).unwrap();
    (answer, fitted.unwrap())
}

fn width(range: Range) -> f64 {
    range.high - range.low
}

#[test]
fn a_log_brings_answers_nearer_to_the_box_that_made_it_and_leaves_less_open() {
    let plain = Spread::of(&described(None)).unwrap();
    let (mut missed, mut missed_before) = (0.0, 0.0);
    for (number, truth) in truths().iter().enumerate() {
        let (answer, fitted) = fitted(truth);
        assert!(matches!(answer.basis, Basis::Fitted { .. }) && fitted.rms_k < 0.25, "{number}: {}", fitted.rms_k);
        let spread = Spread::of(&described(Some(fitted))).unwrap();
        for watts in [30.0, 60.0] {
            let drives = [Drive::Gives(watts)];
            for spot in [Spot::WarmAir, Spot::CoolAir] {
                let c = |model: &Model| Ok(model.settled(&drives, 20.0)?.spot(spot));
                let (real, before, after) = (c(truth).unwrap(), plain.range(c).unwrap(), spread.range(c).unwrap());
                assert!((after.mid - real).abs() < 0.5, "{number}, {watts} W, {spot:?}: {after:?}, not {real}");
                assert!(width(after) < width(before), "{number}, {watts} W, {spot:?}: {after:?}, {before:?}");
                missed += (after.mid - real).abs();
                missed_before += (before.mid - real).abs();
            }
        }
        let hours = |model: &Model| {
            let state = model.settled(&[Drive::Gives(60.0)], 20.0)?;
            Ok(state.network().cooling_time(0, Node::AirWarm)?.seconds() / 3600.0)
        };
        let (real, before, after) = (hours(truth).unwrap(), plain.range(hours).unwrap(), spread.range(hours).unwrap());
        assert!((after.mid / real).ln().abs() < 0.3, "{number}: {after:?} h, not {real} h");
        assert!(width(after) < width(before), "{number}: {after:?} h, {before:?} h");
    }
    assert!(missed < 0.15 * missed_before, "{missed} K, {missed_before} K without a log");
}

#[test]
fn every_question_about_the_enclosure_rests_on_its_log_and_lists_no_guess_that_the_log_decides() {
    let (_, fitted) = fitted(&truths()[0]);
    let typed = given(&[("room_c", "20"), ("species", "ball python")]);
    let decided = ["real-power", "wall-thickness", "surface-film", "mixing", "stand"];
    for (question, key) in [
        (Question::Warmth, "reaches-air"),
        (Question::Runaway, "end-cool-air"),
        (Question::PowerCut, "watts-to-hold"),
        (Question::Season, "winter-duty"),
        (Question::Humidity, ""),
    ] {
        let [before, after] = [None, Some(fitted.clone())].map(|one| question.ask(&typed, &known(one)).unwrap());
        assert_eq!((before.basis.clone(), question), (Basis::Described, question));
        assert!(matches!(after.basis, Basis::Fitted { .. }), "{question:?}");
        if let (Some(before), Some(after)) = (before.amount(key), after.amount(key)) {
            assert!(width(after.range) < width(before.range), "{key}: {after:?}, {before:?}");
        }
        let weight = |answer: &Reckoning| -> f64 {
            answer.guesses.iter().filter(|one| decided.contains(&one.key)).map(|one| one.weight).sum()
        };
        assert!(weight(&after) < 0.06 && weight(&after) <= weight(&before), "{question:?}: {:#?}", after.guesses);
    }
}

#[test]
fn the_answer_shows_what_was_measured_what_is_left_over_and_what_the_log_does_not_tell() {
    let (answer, _) = fitted(&truths()[0]);
    assert!(answer.warnings.is_empty(), "{:#?}", answer.warnings);
    assert!(
        answer.says[0].starts_with("With its 80 W always on, the warm side comes to stand 8.5\u{a0}K (8"),
        "{:?}",
        answer.says
    );
    for key in ["rise-warm", "rise-cool", "cooling-time", "loss", "warm-to-cool", "holds", "left-over"] {
        let range = answer.amount(key).unwrap().range;
        assert!(0.0 < range.low && range.low <= range.mid && range.mid <= range.high, "{key}: {range:?}");
    }
    for key in ["warm-measured", "warm-modelled", "cool-measured", "cool-modelled", "warm-left-over", "cool-left-over"]
    {
        let points = answer.curve(key).unwrap().points.len();
        assert!((100..=200).contains(&points), "{key}: {points}");
    }
    let left = answer.tables.iter().find(|one| one.key == "left-over").unwrap();
    assert!(left.rows.iter().flatten().all(|cell| !matches!(cell, Cell::Is(range, _) if 0.5 < range.mid.abs())));
    for part in ["leaves with the air", "How warm surfaces get", "really draws"] {
        assert!(answer.untold.iter().any(|one| one.contains(part)), "{part}: {:#?}", answer.untold);
    }
}

#[test]
fn a_log_of_another_kind_of_box_is_shown_and_not_kept() {
    // Two zones without any walls, 90 W, three days with an hour off (the check values of the fit of two zones).
    let path = format!("{}/../science/tests/tables/log_with_off_test.csv", env!("CARGO_MANIFEST_DIR"));
    let mut log = String::from("time,room_c,heater_w,warm_c,cool_c\n");
    for line in std::fs::read_to_string(path).unwrap().lines().skip(2) {
        let (seconds, rest) = line.split_once(',').unwrap();
        log.push_str(&format!("{},{rest}\n", clock(seconds.parse().unwrap())));
    }
    let (answer, kept) = fit_log(&read(&log).unwrap(), &known(None), Some(90.0)).unwrap();
    assert!(answer.warning("fit-poor").is_some() && kept.is_none(), "{:#?}", answer.warnings);
    assert!(answer.curve("warm-left-over").is_some());
}

#[test]
fn what_changed_since_the_log_before_is_said_and_an_enclosure_that_was_changed_is_not_compared() {
    let truths = truths();
    let (_, before) = fitted(&truths[0]);
    let again = |fitted: &Fitted, place: fn(&mut Place)| {
        let mut known = known(Some(fitted.clone()));
        place(known.place.as_mut().unwrap());
        fit_log(&read(&simulated(&truths[0])).unwrap(), &known, None).unwrap().0
    };
    assert_eq!(again(&before, |_| ()).warning("fit-drift"), None);
    // Half of the heat that it needs now: it was another box, or a lid is open.
    let half = Fitted {
        warm_to_room_w_k: 0.5 * before.warm_to_room_w_k,
        cool_to_room_w_k: 0.5 * before.cool_to_room_w_k,
        ..before.clone()
    };
    let drifted = again(&half, |_| ());
    let warning = drifted.warning("fit-drift").unwrap();
    assert!(
        warning.says.contains("% more heat for the same warmth") && warning.severity == Severity::Watch,
        "{warning:?}"
    );
    let changed = |place: &mut Place| {
        let was = Enclosure { lid: Some(Lid::Mesh), ..place.enclosure.clone() };
        place.fitted_as = Some((was, place.heaters.clone()));
    };
    assert_eq!(again(&half, changed).warning("fit-drift"), None);
    // Nor does any answer rest on it.
    let mut other = known(Some(before));
    changed(other.place.as_mut().unwrap());
    let typed = given(&[("room_c", "20"), ("species", "ball python")]);
    let answer = Question::Warmth.ask(&typed, &other).unwrap();
    assert_eq!(answer.basis, Basis::Described);
    assert!(answer.untold.iter().any(|one| one.contains("its lid is solid and was mesh")), "{:?}", answer.untold);
}

#[test]
fn another_lid_that_is_typed_leaves_the_log_aside_and_another_set_point_does_not() {
    let (_, fitted) = fitted(&truths()[0]);
    let ask = |key: &'static str, value: &'static str| {
        let typed = given(&[("room_c", "20"), ("species", "ball python"), (key, value)]);
        Question::Warmth.ask(&typed, &known(Some(fitted.clone()))).unwrap().basis
    };
    for (key, value, rests) in [
        ("lid", "mesh", false),
        ("length_cm", "90", false),
        ("heater", "lamp", false),
        ("watts", "60", true),
        ("set_c", "30", true),
    ] {
        assert_eq!(matches!(ask(key, value), Basis::Fitted { .. }), rests, "{key}");
    }
}

/// Rows of a log every 10 minutes, made from their number.
fn rows(header: &str, count: usize, row: impl Fn(usize) -> String) -> String {
    let row = |number: usize| format!("{},{}\n", clock(600.0 * number as f64), row(number));
    format!("{header}\n{}", (0..count).map(row).collect::<String>())
}

#[test]
fn a_log_that_cannot_tell_is_refused_with_what_to_do() {
    const HEADER: &str = "time,warm_c,cool_c,room_c,heater_w";
    let wave = |number: usize| 20.0 + (number as f64 / 20.0).sin();
    for (log, part) in [
        (rows(HEADER, 30, |n| format!("{:.1},25,20,40", 30.0 + wave(n))), "it is 5\u{a0}h long"),
        (rows(HEADER, 200, |n| format!("{:.1},,20,40", 10.0 + wave(n))), "0 readings are too few"),
        (rows(HEADER, 200, |n| format!("25,{:.1},20,40", 10.0 + wave(n))), "warmer than the warm side"),
        (rows(HEADER, 200, |n| format!("{:.1},19,25,40", wave(n))), "no warmer than the room"),
        (rows("time,warm_c,cool_c,room_c,heater_on", 200, |n| format!("{:.1},25,20,1", 10.0 + wave(n))), ""),
    ] {
        let made = fit_log(&read(&log).unwrap(), &known(None), None);
        match made {
            Err(faults) => assert!(faults[0].what.contains(part) && !faults[0].mend.is_empty(), "{faults:#?}"),
            Ok((answer, kept)) => assert!(part.is_empty() && kept.is_none(), "{part}: {:#?}", answer.says),
        }
    }
    // All the same, all the time: how fast it cools does not show.
    let steady = rows(HEADER, 400, |n| format!("{:.1},25.0,20.0,40", 28.0 + 0.1 * (n % 2) as f64));
    let (answer, kept) = match fit_log(&read(&steady).unwrap(), &known(None), None) {
        Ok(made) => made,
        Err(faults) => {
            assert!(faults[0].what.contains("not enough to tell"), "{faults:#?}");
            return;
        }
    };
    assert!(answer.warning("fit-open").is_some() && kept.is_none(), "{answer:#?}");
}

#[test]
fn without_its_heater_a_log_tells_how_it_cools_and_nothing_of_watts() {
    // Off from the start, after 8 K over the room: e-folding in 3 h.
    let cooling = |n: usize| 8.0 * (-(n as f64) / 18.0).exp();
    let log = rows("time,warm_c,cool_c,room_c", 120, |n| {
        format!("{:.2},{:.2},20", 20.0 + 1.2 * cooling(n), 20.0 + 0.8 * cooling(n))
    });
    let (answer, kept) = fit_log(&read(&log).unwrap(), &known(None), None).unwrap();
    let hours = answer.amount("cooling-time").unwrap().range;
    assert!(kept.is_none() && (hours.mid - 3.0).abs() < 0.1, "{hours:?}");
    assert!(answer.untold.iter().any(|one| one.contains("What a watt does")), "{:?}", answer.untold);
}

#[test]
fn an_enclosure_without_sides_or_without_a_heater_is_to_be_described_first() {
    let log = read(&simulated(&truths()[0])).unwrap();
    let mut bare = known(None);
    bare.place = Some(Place::default());
    let faults = fit_log(&log, &bare, Some(80.0)).unwrap_err();
    assert!(faults[0].what.contains("how large"), "{faults:?}");
    let mut cold = known(None);
    cold.place.as_mut().unwrap().heaters.clear();
    let faults = fit_log(&log, &cold, Some(80.0)).unwrap_err();
    assert!(faults[0].what.contains("what heats"), "{faults:?}");
}
