use crate::table::{Worst, c, rows};
use science::physics::calibration::*;
use science::physics::moisture::exchange_from_decay;
use science::physics::network::{Network, Node};
use units::{Celsius, Seconds, Watts};

fn log(name: &str, watts_factor: f64) -> Log {
    let records = rows(&format!("log_{name}"))
        .iter()
        .map(|row| Record {
            room: row.celsius("T_room_C"),
            heater: Watts(watts_factor * row.number("P_W")),
            warm: Some(row.celsius("T_warm_C")),
            cool: Some(row.celsius("T_cool_C")),
        })
        .collect();
    Log::new(Seconds(300.0), records).unwrap()
}

fn with(share: Share) -> Choices {
    Choices { share, lag: Lag::None }
}

fn values(model: &TwoZone) -> [f64; 5] {
    [model.warm_to_room_w_k, model.cool_to_room_w_k, model.warm_to_cool_w_k, model.warm_j_k, model.cool_j_k]
}

const COLUMNS: [&str; 5] = ["G_warm_room", "G_cool_room", "G_warm_cool", "C_warm", "C_cool"];
const PARAMETERS: [Parameter; 5] = [
    Parameter::WarmToRoom,
    Parameter::CoolToRoom,
    Parameter::WarmToCool,
    Parameter::WarmCapacity,
    Parameter::CoolCapacity,
];

#[test]
fn fits_agree_with_those_of_an_independent_solver() {
    // Both end at the same minimum, so the 2 standard deviations that are allowed are not needed.
    let (mut estimates, mut deviations, mut rest) = (Worst::default(), Worst::default(), Worst::default());
    for row in rows("fits") {
        let share = row.maybe("fixed_share").map_or(Share::Free, Share::Known);
        let fit = fit(&log(row.text("log"), 1.0), &with(share)).unwrap();
        let at = format!("{} {share:?}", row.text("log"));
        for ((got, column), parameter) in values(&fit.model).into_iter().zip(COLUMNS).zip(PARAMETERS) {
            let wanted_deviation = row.number(&format!("sd_{column}"));
            let off = (got / row.number(column) - 1.0) / wanted_deviation;
            estimates.absolute(off, 0.0, format!("{at} {column}"));
            deviations.relative(fit.deviation(parameter).unwrap(), wanted_deviation, format!("{at} {column}"));
        }
        rest.relative(fit.model.heater_share, row.number("share"), &at);
        rest.relative(fit.rms_k, row.number("rms_K"), &at);
        rest.relative(fit.condition, row.number("condition"), &at);
        let correlation = |a, b| fit.correlation(a, b).unwrap();
        let sides = correlation(Parameter::WarmToRoom, Parameter::CoolToRoom);
        rest.absolute(sides, row.number("corr_Gwr_Gcr"), &at);
        let together = correlation(Parameter::WarmToCool, Parameter::CoolToRoom);
        rest.absolute(together, row.number("corr_Gwc_Gcr"), &at);
        assert!(fit.doubts().is_empty(), "{at}: {:?}", fit.doubts());
    }
    estimates.within(2.0);
    deviations.within(0.05);
    rest.within(0.05);
}

#[test]
fn what_made_the_log_lies_within_three_deviations() {
    let truth = [3.2, 3.6, 2.4, 26_000.0, 30_000.0];
    for name in ["steady_on_off", "setback", "with_off_test"] {
        let fit = fit(&log(name, 1.0), &with(Share::Known(0.8))).unwrap();
        for ((got, truth), parameter) in values(&fit.model).into_iter().zip(truth).zip(PARAMETERS) {
            let off = (got / truth - 1.0) / fit.deviation(parameter).unwrap();
            assert!(off.abs() < 3.0, "{name} {parameter:?}: {off} deviations");
        }
    }
}

#[test]
fn a_free_share_and_the_ways_to_the_room_move_together_and_are_said_to() {
    let fit = fit(&log("steady_on_off", 1.0), &with(Share::Free)).unwrap();
    let pairs = fit.moving_together();
    let sides = |(a, b, r): &(Parameter, Parameter, f64)| {
        *a == Parameter::WarmToRoom && *b == Parameter::CoolToRoom && *r < -0.999
    };
    assert!(pairs.iter().any(sides), "{pairs:?}");
    assert!(pairs.windows(2).all(|two| two[1].2.abs() <= two[0].2.abs()));
}

#[test]
fn wrong_watts_scale_everything_and_are_not_seen() {
    let right = fit(&log("with_off_test", 1.0), &with(Share::Known(0.8))).unwrap();
    let wrong = fit(&log("with_off_test", 1.2), &with(Share::Known(0.8))).unwrap();
    for (a, b) in values(&right.model).into_iter().zip(values(&wrong.model)) {
        assert!((b / a - 1.2).abs() < 1e-3, "{a} and {b}");
    }
    assert!((right.rms_k - wrong.rms_k).abs() < 1e-6);
    // Time constants and temperatures stay, watts do not.
    let tau = |fit: &Fit| fit.model.network().unwrap().time_constants().unwrap()[1].seconds();
    assert!((tau(&wrong) / tau(&right) - 1.0).abs() < 1e-3);
    let need = |fit: &Fit| fit.model.network().unwrap().power_for(0, Node::WarmSide, c(31.0), c(20.0)).unwrap().watts();
    assert!((need(&wrong) / need(&right) - 1.2).abs() < 1e-3);
}

/// A log without noise from a model with lagging sensors.
fn made(model: &TwoZone, step: f64, hours: f64) -> Log {
    let steps = (hours * 3600.0 / step) as usize;
    let blank = |k: usize| Record {
        room: c(20.0 + (k as f64 * step / 9000.0).sin()),
        // On for 40 min of every 70, off for a long time in between.
        heater: Watts(if (k as f64 * step % 4200.0) < 2400.0 && k as f64 * step / 3600.0 % 24.0 <= 18.0 {
            90.0
        } else {
            0.0
        }),
        warm: Some(c(24.0)),
        cool: Some(c(22.0)),
    };
    let inputs = Log::new(Seconds(step), (0..steps).map(blank).collect()).unwrap();
    let readings = model.simulated_c(&inputs, [24.0, 22.0]);
    let read = |value: f64| Celsius::new(value);
    let records = inputs
        .records()
        .iter()
        .zip(readings)
        .enumerate()
        // Every seventh reading is missing.
        .map(|(k, (record, [warm, cool]))| Record {
            warm: (k % 7 != 3).then(|| read(warm)).flatten(),
            cool: (k % 7 != 5).then(|| read(cool)).flatten(),
            ..*record
        })
        .collect();
    Log::new(Seconds(step), records).unwrap()
}

const TRUTH: TwoZone = TwoZone {
    warm_to_room_w_k: 3.2,
    cool_to_room_w_k: 3.6,
    warm_to_cool_w_k: 2.4,
    warm_j_k: 26_000.0,
    cool_j_k: 30_000.0,
    heater_share: 0.8,
    lag: Seconds(240.0),
};

#[test]
fn the_lag_of_sensors_is_found_in_a_fast_log_with_gaps() {
    let log = made(&TRUTH, 60.0, 48.0);
    let choices = Choices { share: Share::Known(0.8), lag: Lag::Around(Seconds(120.0)) };
    let fit = fit(&log, &choices).unwrap();
    // The prior pulls by less than a thousandth: there is no noise.
    assert!((fit.model.lag.seconds() / 240.0 - 1.0).abs() < 0.01, "{:?}", fit.model);
    for (got, truth) in values(&fit.model).into_iter().zip(values(&TRUTH)) {
        assert!((got / truth - 1.0).abs() < 0.01, "{got} and {truth}");
    }
    assert!(fit.residuals_k.iter().any(|pair| pair[0].is_none()) && fit.rms_k < 0.01);
}

#[test]
fn a_missing_lag_shows_in_the_residuals() {
    let log = made(&TwoZone { lag: Seconds(1800.0), ..TRUTH }, 60.0, 48.0);
    let fit = fit(&log, &with(Share::Known(0.8))).unwrap();
    assert!(matches!(fit.doubts().last(), Some(Doubt::Autocorrelation(r)) if 0.6 < *r), "{:?}", fit.doubts());
}

#[test]
fn a_simulation_is_the_network_stepped() {
    let model = TwoZone { lag: Seconds(0.0), ..TRUTH };
    let log = made(&model, 300.0, 12.0);
    let network = model.network().unwrap();
    let stepper = network.system().stepper(Seconds(300.0)).unwrap();
    let mut state = nalgebra::DVector::from_vec(vec![24.0, 22.0]);
    let mut worst = Worst::default();
    for (record, [warm, cool]) in log.records().iter().zip(model.simulated_c(&log, [24.0, 22.0])) {
        worst.absolute(warm, state[0], "warm");
        worst.absolute(cool, state[1], "cool");
        state = stepper.step(&state, &network.inputs(&[record.heater], record.room).unwrap());
    }
    worst.within(1e-9);
}

#[test]
fn conductances_that_drift_are_named() {
    let open = TwoZone { warm_to_room_w_k: 3.2 * 1.3, cool_to_room_w_k: 3.6 * 1.2, ..TRUTH };
    let drifted = drift(&TRUTH, &open, 0.25);
    assert_eq!(drifted.len(), 1);
    assert!(drifted[0].0 == Parameter::WarmToRoom && (drifted[0].1 - 1.3).abs() < 1e-12);
}

#[test]
fn logs_that_tell_nothing_are_refused() {
    let record = |heater: f64, warm: f64| Record {
        room: c(20.0),
        heater: Watts(heater),
        warm: Some(c(warm)),
        cool: Some(c(warm)),
    };
    let of = |records: Vec<Record>| Log::new(Seconds(60.0), records);
    assert_eq!(of(vec![record(10.0, 25.0); 49]).err(), Some(LogFault::Short(49)));
    assert_eq!(of(vec![record(0.0, 25.0); 60]).err(), Some(LogFault::NeverHeated));
    assert_eq!(Log::new(Seconds(0.0), vec![record(1.0, 25.0); 60]).err(), Some(LogFault::Step));
    let cold = of(vec![record(10.0, 15.0); 60]).unwrap();
    assert_eq!(fit(&cold, &with(Share::Free)).err(), Some(FitFault::NotWarmer));
    let log = of(vec![record(10.0, 25.0); 60]).unwrap();
    assert_eq!(fit(&log, &with(Share::Known(1.5))).err(), Some(FitFault::Choice));
    // Nothing ever changes: capacities cannot be known.
    assert!(fit(&log, &with(Share::Known(0.8))).is_err());
}

#[test]
fn a_cool_down_gives_the_time_constant() {
    // 11 K over the room, 7200 s.
    let points: Vec<(Seconds, f64)> =
        (0..=72).map(|k| f64::from(k) * 300.0).map(|t| (Seconds(t), 11.0 * (-t / 7200.0).exp())).collect();
    let found = decay(&points).unwrap();
    assert!((found.time_constant.seconds() - 7200.0).abs() < 1e-6 && (found.start - 11.0).abs() < 1e-9);
    assert!(found.deviation.seconds() < 1e-6);
}

#[test]
fn a_decay_of_moisture_gives_the_air_change() {
    let tau = 3600.0 / 1.47;
    let points: Vec<(Seconds, f64)> =
        (0..12).map(|k| f64::from(k) * 300.0).map(|t| (Seconds(t), 0.01 * (-t / tau).exp())).collect();
    let slope = decay(&points).unwrap().slope_per_h();
    assert!((slope + 1.47).abs() < 1e-9);
    assert!((exchange_from_decay(slope, 0.2036, 0.432).unwrap() - 0.998_704).abs() < 1e-6);
}

/// A box of three nodes: air on both sides and a shell that is slow.
fn small_box(to_room: f64, between: f64, capacity: f64) -> Network {
    Network::builder()
        .node(Node::AirWarm, 4_000.0)
        .node(Node::AirCool, 4_000.0)
        .node(Node::Shell, 60_000.0 * capacity)
        .link(Node::AirWarm, Node::AirCool, 1.5 * between)
        .link(Node::AirWarm, Node::Shell, 5.0)
        .link(Node::AirCool, Node::Shell, 4.0)
        .to_room(Node::Shell, 6.0 * to_room)
        .to_room(Node::AirWarm, 0.4 * to_room)
        .to_room(Node::AirCool, 0.4 * to_room)
        .heater(&[(Node::AirWarm, 0.7), (Node::Shell, 0.25)])
        .build()
        .unwrap()
}

#[test]
fn a_described_network_is_brought_to_the_one_that_made_the_log() {
    let truth = small_box(1.4, 0.6, 1.7);
    let sides = [Node::AirWarm, Node::AirCool];
    let places = sides.map(|node| truth.place(node).unwrap());
    let mut now = truth.steady(&[Watts(30.0)], Celsius::new(18.0).unwrap()).unwrap();
    // Sensors of 3 min behind the air, and a heater that is on by day and half the night.
    let mut read = places.map(|place| now.degrees()[place]);
    let mut records = Vec::new();
    for step in 0..2880usize {
        let (hour, room) = (step as f64 / 60.0, Celsius::new(19.0 + (step as f64 / 400.0).sin()).unwrap());
        let power = Watts(if ((hour / 3.0) as usize).is_multiple_of(2) { 50.0 } else { 10.0 });
        let [warm, cool] = read.map(Celsius::new);
        records.push(Record { room, heater: power, warm: warm.filter(|_| step % 7 != 0), cool });
        for _ in 0..6 {
            now = truth.after(&now, &[power], room, Seconds(10.0)).unwrap();
            for (read, place) in read.iter_mut().zip(places) {
                *read += (now.degrees()[place] - *read) * (1.0 - (-10.0f64 / 180.0).exp());
            }
        }
    }
    let log = Log::new(Seconds(60.0), records).unwrap();
    let fit = fit_scaled(&log, &small_box(1.0, 1.0, 1.0), sides, Lag::Around(Seconds(120.0))).unwrap();
    for (got, wanted) in fit.factors.into_iter().zip([1.4, 0.6, 1.7]) {
        assert!((got / wanted - 1.0).abs() < 0.01, "{got}, not {wanted}");
    }
    assert!((fit.lag.seconds() - 180.0).abs() < 10.0 && fit.rms_k < 0.02, "{:?}, {} K", fit.lag, fit.rms_k);
    assert!(0 < fit.led_in && fit.modelled_c.len() == 2880 && fit.correlation(0, 3).is_some());
    let cold = log.records().iter().map(|one| Record { room: Celsius::new(60.0).unwrap(), ..*one }).collect();
    let cold = Log::new(Seconds(60.0), cold).unwrap();
    assert_eq!(fit_scaled(&cold, &small_box(1.0, 1.0, 1.0), sides, Lag::None), Err(FitFault::NotWarmer));
}
