//! How long a year, a thaw and a calibration take. `benches/reference/physics.py` does the same with scipy.

use divan::{Bencher, black_box};
use science::physics::calibration::{Choices, Lag, Log, Record, Share, TwoZone, fit};
use science::physics::control::{Controlled, Curve, Settings, Thermostat, run};
use science::physics::network::{Network, Node, Temperatures};
use science::physics::prey::{Body, Composition, Food, Medium, Spot, Stage, Thawing, Watch};
use units::{Celsius, CelsiusDelta, Metres, Seconds, Watts};

fn main() {
    divan::main();
}

fn c(degrees: f64) -> Celsius {
    Celsius::new(degrees).unwrap_or_else(|| std::process::abort())
}

fn network() -> Network {
    use Node::*;
    let net = Network::builder()
        .node(AirWarm, 3000.0)
        .node(AirCool, 3000.0)
        .node(FloorWarm, 18_000.0)
        .node(FloorCool, 18_000.0)
        .node(Shell, 34_000.0)
        .node(Bowl, 6300.0)
        .node(Heater(0), 900.0)
        .link(AirWarm, AirCool, 4.0)
        .link(AirWarm, FloorWarm, 1.4)
        .link(AirCool, FloorCool, 1.0)
        .link(AirWarm, Shell, 3.6)
        .link(AirCool, Shell, 3.6)
        .link(FloorWarm, Shell, 1.8)
        .link(FloorCool, Shell, 1.8)
        .link(FloorWarm, FloorCool, 0.15)
        .link(Bowl, AirCool, 0.10)
        .link(Bowl, FloorCool, 0.15)
        .link(Heater(0), AirWarm, 0.25)
        .link(Heater(0), FloorWarm, 0.20)
        .link(Heater(0), Shell, 0.15)
        .to_room(AirWarm, 0.1)
        .to_room(AirCool, 0.1)
        .to_room(FloorWarm, 0.45)
        .to_room(FloorCool, 0.45)
        .to_room(Shell, 9.5)
        .heater(&[(Heater(0), 1.0)]);
    net.build().unwrap_or_else(|_| std::process::abort())
}

/// 525 600 steps of 60 s with seven nodes, an on-off thermostat, a room that follows the day.
#[divan::bench]
fn a_year_with_seven_nodes(bencher: Bencher) {
    let net = network();
    let start = Temperatures::all(&net, c(20.0));
    let thermostat = Controlled {
        heater: 0,
        rated: Watts(120.0),
        thermostat: Thermostat::OnOff { band: CelsiusDelta(1.0) },
        probe: Node::AirWarm,
        lag: Seconds(120.0),
        set: Curve::Constant(c(31.0)),
        fault: None,
    };
    let settings = Settings {
        step: Seconds(60.0),
        duration: Seconds(365.0 * 86_400.0),
        sample_every: Seconds(86_400.0),
        room: Curve::Sine { mean: c(20.0), amplitude_k: 2.0, rises_at_day: 0.375 },
    };
    bencher.bench_local(|| run(black_box(&net), &start, std::slice::from_ref(&thermostat), &settings));
}

/// A mouse of 25 g from −18 °C to 0 °C at its centre in room air, 40 shells.
#[divan::bench]
fn a_thaw_with_forty_shells(bencher: Bencher) {
    let food = Food::new(Composition::ADULT_RODENT, 1040.0).unwrap_or_else(|| std::process::abort());
    let radius = Metres::new(0.0124).unwrap_or_else(|| std::process::abort());
    let body = Body::of_dimension(radius, 2.2646).unwrap_or_else(|| std::process::abort());
    let stage = Stage {
        medium: Medium::Constant(c(21.0)),
        film_w_m2k: 11.0,
        duration: Seconds(20_000.0),
        keep_every: Seconds(600.0),
    };
    let watch = [Watch { spot: Spot::Centre, reaches: c(0.0) }];
    bencher.bench_local(|| {
        let mut thawing = Thawing::new(black_box(&food), body, c(-18.0), 40)?;
        thawing.run_until_seen(&stage, &watch)
    });
}

/// Five parameters and two start temperatures from 43 200 lines.
#[divan::bench]
fn a_calibration_on_thirty_days_at_one_minute(bencher: Bencher) {
    let truth = TwoZone {
        warm_to_room_w_k: 3.2,
        cool_to_room_w_k: 3.6,
        warm_to_cool_w_k: 2.4,
        warm_j_k: 26_000.0,
        cool_j_k: 30_000.0,
        heater_share: 0.8,
        lag: Seconds(0.0),
    };
    let blank = |k: usize| {
        let t = k as f64 * 60.0;
        let is_night = 72_000.0 < t % 86_400.0;
        Record {
            room: c(20.0 + 1.5 * (std::f64::consts::TAU * (t / 86_400.0 - 0.375)).sin()),
            heater: Watts(if !is_night && t % 4200.0 < 2400.0 { 90.0 } else { 0.0 }),
            warm: Some(c(24.0)),
            cool: Some(c(22.0)),
        }
    };
    let log = |records: Vec<Record>| Log::new(Seconds(60.0), records).unwrap_or_else(|_| std::process::abort());
    let inputs = log((0..43_200).map(blank).collect());
    let readings = truth.simulated_c(&inputs, [24.0, 22.0]);
    // Rounded to 0.1 K, as sensors show it.
    let shown = |value: f64| Some(c((value * 10.0).round() / 10.0));
    let records = inputs
        .records()
        .iter()
        .zip(readings)
        .map(|(record, [warm, cool])| Record { warm: shown(warm), cool: shown(cool), ..*record })
        .collect();
    let log = log(records);
    let choices = Choices { share: Share::Known(0.8), lag: Lag::None };
    bencher.bench_local(|| fit(black_box(&log), &choices));
}
