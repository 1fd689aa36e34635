use super::*;
use crate::twin::testing::given;
use crate::twin::{Description, Guesses, Model, Spread, Unknown, description, power_cut, warmth};
use crate::what_if::{Basis, Known, Place, Range, Reckoning};
use records::Fault;
use records::facts::{Enclosure, Fitted, Heater, HeaterKind, Lid, Spot, Thermostat};
use records::import::{Answers, HeaterLogged};
use science::physics::network::Temperatures;
use science::statistics::normal;
use units::{Celsius, Moment, Seconds, Watts, Zone};

fn read(text: &str) -> Result<LogTable, Vec<Fault>> {
    read_log("log.csv", text.as_bytes(), &Zone::none(), &Answers::default())
}

fn clock(seconds: f64) -> String {
    Zone::none().write(Moment(1_773_500_400 + seconds as i64)).to_string()
}

/// A table of check values as a log with clock times.
fn table(name: &str) -> LogTable {
    let path = format!("{}/../science/tests/tables/log_{name}.csv", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let mut log = String::from("time,room_c,heater_w,warm_c,cool_c\n");
    for line in text.lines().skip(2) {
        let (seconds, rest) = line.split_once(',').unwrap();
        log.push_str(&format!("{},{rest}\n", clock(seconds.parse().unwrap())));
    }
    read(&log).unwrap()
}

#[test]
fn fits_agree_with_those_of_an_independent_solver() {
    // fits.csv, rows with a share of 0.8 (computed with scipy); that share is what is taken where no heater is described.
    for (name, wanted) in [
        ("steady_on_off", [3.18703, 3.62966, 2.42148, 26.1013, 29.6515]),
        ("setback", [3.18761, 3.63023, 2.42221, 26.0231, 29.9470]),
        ("with_off_test", [3.22154, 3.56935, 2.34249, 26.0533, 29.1907]),
    ] {
        let log = table(name);
        assert_eq!((log.step_s, log.heater, log.used), (300.0, HeaterLogged::Watts, 864));
        let (answer, fitted) = fit_log(&log, &Known::nothing(Moment(1_773_500_400), Zone::none()), None).unwrap();
        let fitted = fitted.unwrap();
        let got = [
            (fitted.warm_to_room_w_k, fitted.warm_to_room_w_k_sd_pct),
            (fitted.cool_to_room_w_k, fitted.cool_to_room_w_k_sd_pct),
            (fitted.warm_to_cool_w_k, fitted.warm_to_cool_w_k_sd_pct),
            (fitted.warm_kj_k, fitted.warm_kj_k_sd_pct),
            (fitted.cool_kj_k, fitted.cool_kj_k_sd_pct),
        ];
        for ((value, sd_pct), wanted) in got.into_iter().zip(wanted) {
            let off = 100.0 * (value / wanted - 1.0) / sd_pct;
            assert!(off.abs() < 0.2, "{name}: {value} and {wanted} are {off} deviations apart");
        }
        assert!((fitted.rms_k - 0.1025).abs() < 0.001 && fitted.watts == 90.0);
        assert!(answer.warnings.is_empty() && matches!(answer.basis, Basis::Fitted { .. }));
        // The two ways to the room move together: correlation −0.998 to −0.999 in the table.
        assert!(answer.untold.iter().any(|one| one.contains("only together")), "{:#?}", answer.untold);
        for key in
            ["warm-measured", "warm-modelled", "cool-measured", "cool-modelled", "warm-left-over", "cool-left-over"]
        {
            let curve = answer.curve(key).unwrap();
            assert!(100 < curve.points.len() && curve.points.len() <= 200, "{key}: {}", curve.points.len());
        }
        assert!(answer.curve("warm-left-over").unwrap().points.iter().all(|point| point.range.mid.abs() < 0.5));
    }
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
        kind: HeaterKind::Panel,
        watts: Some(80.0),
        thermostat: Some(Thermostat::OnOff),
        set_c: Some(27.0),
        night_set_c: Some(24.5),
        guarded: None,
        inside: None,
        probe: None,
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

/// One way in which the described enclosure may be, rather far from the middle.
fn truth() -> Model {
    let values = Guesses::of(&described(None))
        .middle()
        .with(Unknown::Thickness, 6.0)
        .with(Unknown::AirChanges, 2.4)
        .with(Unknown::SurfaceFilm, 0.115)
        .with(Unknown::Mixing, 1.6)
        .with(Unknown::HeaterShare, 0.04)
        .with(Unknown::Decor, 20.0)
        .with(Unknown::Substrate, 5.0);
    Model::new(&described(None), &values).unwrap()
}

/// Noise of a thermometer, K: normal, standard deviation 0.1 K, always the same.
fn noise(number: usize) -> f64 {
    let share = ((number as f64 * 12.9898).sin() * 43_758.545_3).rem_euclid(1.0);
    0.1 * normal::quantile(share.clamp(1e-4, 1.0 - 1e-4))
}

/// A simulated log of three days at 5 min: the network of [`truth`] with its seven nodes and its heater's body, an on/off
/// thermostat in the warm air with a lower set point by night, a room that swings by 1.5 K, noise, rounding to 0.1 K.
fn simulated() -> String {
    let truth = truth();
    let drives = [crate::twin::model::Drive::Holds(crate::twin::model::Place::At(Spot::WarmAir), 27.0)];
    let state = truth.settled(&drives, 20.0).unwrap();
    let network = state.network();
    let place = |node| network.place(node).unwrap();
    let (warm, cool) =
        (place(science::physics::network::Node::AirWarm), place(science::physics::network::Node::AirCool));
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

fn fitted() -> (Reckoning, Fitted) {
    let (answer, fitted) = fit_log(&read(&simulated()).unwrap(), &known(None), None).unwrap();
    (answer, fitted.unwrap())
}

fn width(range: Range) -> f64 {
    range.high - range.low
}

#[test]
fn what_was_fitted_to_a_simulated_log_stands_where_the_log_stands() {
    let (answer, fitted) = fitted();
    println!("{:#?}\n{:#?}\n{:#?}\n{:#?}", fitted, answer.says, answer.untold, answer.warnings);
    println!("{:#?}", answer.tables);
    let spread = Spread::of(&described(Some(fitted.clone()))).unwrap();
    let truth = truth();
    for watts in [30.0, 45.0, 60.0] {
        let drives = [crate::twin::model::Drive::Gives(watts)];
        let real = truth.settled(&drives, 20.0).unwrap();
        for spot in [Spot::WarmAir, Spot::CoolAir] {
            let model = spread.range(|model| Ok(model.settled(&drives, 20.0)?.spot(spot))).unwrap();
            println!("{watts} {spot:?} {} {model:?}", real.spot(spot));
            assert!(
                (model.mid - real.spot(spot)).abs() < 0.5,
                "{watts} W, {spot:?}: {model:?}, not {}",
                real.spot(spot)
            );
        }
    }
}
