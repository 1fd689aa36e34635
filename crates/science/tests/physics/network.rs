use crate::table::{Row, Worst, c, rows};
use proptest::prelude::*;
use science::physics::control::*;
use science::physics::energy;
use science::physics::network::*;
use units::{Celsius, CelsiusDelta, Seconds, Watts};

/// The networks that the tables were computed for.
pub fn network(name: &str) -> Network {
    use Node::*;
    let builder = match name {
        "N2" => Network::builder()
            .node(Air, 9000.0)
            .node(Floor, 25_000.0)
            .link(Air, Floor, 4.0)
            .to_room(Air, 5.0)
            .to_room(Floor, 0.8)
            .heater(&[(Floor, 0.85)]),
        "N3" => Network::builder()
            .node(WarmSide, 14_000.0)
            .node(CoolSide, 14_000.0)
            .node(Shell, 30_000.0)
            .link(WarmSide, CoolSide, 3.0)
            .link(WarmSide, Shell, 6.0)
            .link(CoolSide, Shell, 6.0)
            .to_room(Shell, 9.0)
            .to_room(WarmSide, 0.6)
            .to_room(CoolSide, 0.6)
            .heater(&[(WarmSide, 0.7), (Shell, 0.3)]),
        _ => Network::builder()
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
            .heater(&[(Heater(0), 1.0)]),
    };
    builder.build().unwrap()
}

fn node(name: &str) -> Node {
    match name {
        "air" => Node::Air,
        "floor" => Node::Floor,
        "warm" => Node::WarmSide,
        "air_w" => Node::AirWarm,
        "floor_w" => Node::FloorWarm,
        other => panic!("no node {other}"),
    }
}

/// In units of what is allowed: 1e-6 K, and half of the last of eight digits from 100 °C on.
fn compare(worst: &mut Worst, got: &Temperatures, row: &Row, prefix: &str) {
    for (place, degrees) in got.degrees().iter().enumerate() {
        let wanted = row.number(&format!("{prefix}{place}"));
        let allowed = if wanted < 100.0 { 1e-6 } else { 5e-6 };
        worst.absolute(degrees / allowed, wanted / allowed, format!("node {place}"));
    }
}

#[test]
fn watts_for_a_target_and_stuck_on_agree() {
    let (mut worst, mut nodes) = (Worst::default(), Worst::default());
    for row in rows("net_steady") {
        let net = network(row.text("net"));
        let (room, target, at) = (row.celsius("room_C"), row.celsius("target_C"), node(row.text("node")));
        worst.absolute(net.rise_k_w(0, at).unwrap(), row.number("K_per_W"), "rise");
        let power = net.power_for(0, at, target, room).unwrap();
        worst.relative(power.watts(), row.number("watts"), "watts");
        compare(&mut nodes, &net.steady(&[power], room).unwrap(), &row, "n");
        compare(&mut nodes, &net.steady(&[Watts(2.0 * power.watts())], room).unwrap(), &row, "stuck_n");
        let limit = net.safe_rating(0, at, target, room).unwrap();
        worst.relative(limit.watts(), row.number("watts"), "safe rating");
    }
    worst.within(1e-6);
    nodes.within(1.0);
}

#[test]
fn cool_down_and_warm_up_agree() {
    let (mut exact, mut times) = (Worst::default(), Worst::default());
    for row in rows("net_cool_down") {
        let net = network(row.text("net"));
        let (room, power) = (row.celsius("room_C"), Watts(row.number("P_W")));
        let start = net.steady(&[power], c(20.0)).unwrap();
        let after = |start: &Temperatures, power: Watts, t: f64| net.after(start, &[power], room, Seconds(t)).unwrap();
        match row.text("what") {
            "start" => compare(&mut exact, &start, &row, "n"),
            "cool" => compare(&mut exact, &after(&start, Watts(0.0), row.number("t_s")), &row, "n"),
            "warm_up" => {
                let cold = Temperatures::all(&net, c(20.0));
                compare(&mut exact, &after(&cold, power, row.number("t_s")), &row, "n");
            }
            question => {
                let at = node(question.trim_start_matches("time_to:"));
                let got = net.time_to(&start, &[Watts(0.0)], room, at, row.celsius("n0")).unwrap();
                match row.maybe("t_s") {
                    Some(wanted) => times.absolute(got.unwrap().seconds(), wanted, question),
                    None => assert!(got.is_none(), "{question} in {}", row.text("net")),
                }
            }
        }
    }
    exact.within(1.0);
    // The reference brackets to 1e-3 s.
    times.within(1e-3);
}

#[test]
fn time_constants_agree() {
    let mut worst = Worst::default();
    for row in rows("net_time_constants") {
        for (place, tau) in network(row.text("net")).time_constants().unwrap().into_iter().enumerate() {
            worst.relative(tau.seconds(), row.number(&format!("n{place}")), row.text("net"));
        }
    }
    worst.within(1e-6);
}

#[test]
fn on_off_control_switches_when_events_say() {
    let (mut ends, mut duties, mut moments) = (Worst::default(), Worst::default(), Worst::default());
    for row in rows("net_on_off") {
        let net = network(row.text("net"));
        let control = OnOffRun {
            heater: 0,
            rated: Watts(row.number("Pmax_W")),
            probe: node(row.text("node")),
            lag: Seconds(120.0),
            set: c(31.0),
            band: CelsiusDelta(1.0),
            room: c(20.0),
        };
        let twelve_hours = Seconds::from_hours(12.0);
        let (stretches, end) = on_off_run(&net, &Temperatures::all(&net, c(20.0)), &control, twelve_hours).unwrap();
        assert_eq!(stretches.len() - 1, row.number("switches") as usize, "{}", row.text("net"));
        let length = |s: &Stretch| s.to.seconds() - s.from.seconds();
        let energy: f64 = stretches.iter().filter(|s| s.is_on).map(|s| length(s) * control.rated.watts()).sum();
        let late: Vec<&Stretch> =
            stretches.iter().filter(|s| 6.0 * 3600.0 < s.from.seconds() && s.to < twelve_hours).collect();
        let mean = |is_on: bool| {
            let lengths: Vec<f64> = late.iter().filter(|s| s.is_on == is_on).map(|s| length(s)).collect();
            (lengths.iter().sum::<f64>(), lengths.iter().sum::<f64>() / lengths.len() as f64)
        };
        let ((on, mean_on), (off, mean_off)) = (mean(true), mean(false));
        moments.relative(stretches[0].to.seconds(), row.number("first_off_s"), "first off");
        moments.relative(mean_on, row.number("late_on_s"), "on");
        moments.relative(mean_off, row.number("late_off_s"), "off");
        moments.relative(energy / 3600.0, row.number("energy_Wh"), "energy");
        duties.absolute(on / (on + off), row.number("late_duty"), "duty");
        compare(&mut ends, &end, &row, "n");
    }
    // ±0.05 K and ±1 % duty are allowed between different steppings; both are exact here.
    ends.within(0.05 / 1e-6);
    duties.within(0.01);
    moments.within(1e-4);
}

fn sampled(law: Thermostat, case: &str) -> Course {
    let net = network("N7");
    let wave = Curve::Sine { mean: c(20.0), amplitude_k: 2.0, rises_at_day: 0.375 };
    let room = if case.contains("sine") { wave } else { Curve::Constant(c(20.0)) };
    let setback = Curve::DayNight { day: c(31.0), night: c(27.0), from_h: 8.0, to_h: 20.0 };
    let set = if case.contains("setback") { setback } else { Curve::Constant(c(31.0)) };
    let one = Controlled {
        heater: 0,
        rated: Watts(120.0),
        thermostat: law,
        probe: Node::AirWarm,
        lag: Seconds(120.0),
        set,
        fault: None,
    };
    let settings = Settings {
        step: Seconds(10.0),
        duration: Seconds::from_hours(24.0),
        sample_every: Seconds::from_hours(0.5),
        room,
    };
    run(&net, &Temperatures::all(&net, c(20.0)), &[one], &settings).unwrap()
}

fn law(name: &str) -> Thermostat {
    match name {
        "on_off_1K" => Thermostat::OnOff { band: CelsiusDelta(1.0) },
        "pi_dimming" => Thermostat::Dimming { gain_1_k: 0.25, integral: Seconds(1800.0) },
        _ => Thermostat::Pulse { band: CelsiusDelta(2.0), cycle: Seconds(120.0) },
    }
}

#[test]
fn sampled_control_agrees_step_by_step() {
    let (mut readings, mut nodes, mut kwh) = (Worst::default(), Worst::default(), Worst::default());
    let mut last: Option<(String, Course)> = None;
    for row in rows("net_sampled") {
        let key = format!("{} {}", row.text("law"), row.text("case"));
        if last.as_ref().is_none_or(|(known, _)| *known != key) {
            last = Some((key.clone(), sampled(law(row.text("law")), row.text("case"))));
        }
        let (_, course) = last.as_ref().unwrap();
        let sample = course.samples.iter().find(|s| s.time.seconds() == row.number("t_s")).unwrap();
        readings.absolute(sample.readings_c[0], row.number("sensor"), &key);
        compare(&mut nodes, &sample.temperatures, &row, "n");
        kwh.absolute(course.kwh(), row.number("kWh"), &key);
    }
    readings.within(1e-6);
    nodes.within(1.0);
    kwh.within(1e-6);
}

#[test]
fn a_month_costs_what_the_table_says() {
    let mut worst = Worst::default();
    for row in rows("net_cost") {
        let kwh = energy::kwh_per_month(Watts(row.number("mean_W")));
        worst.relative(kwh, row.number("kWh_month"), "kWh");
        worst.relative(kwh * row.number("price_per_kWh"), row.number("cost"), "cost");
    }
    worst.within(1e-6);
}

#[test]
fn a_pulse_thermostat_settles_beside_its_set_point_by_what_its_duty_says() {
    let course = sampled(law("pulse_proportional"), "const room");
    let duty = network("N7").power_for(0, Node::AirWarm, c(31.0), c(20.0)).unwrap().watts() / 120.0;
    let last = course.samples.last().unwrap();
    let offset = pulse_offset(duty, CelsiusDelta(2.0)).kelvin();
    // Twelve steps to a cycle: the duty is rounded up by at most one, 1/12 of the band.
    assert!((last.readings_c[0] - 31.0 - offset).abs() < 2.0 / 12.0, "{} and {offset}", last.readings_c[0]);
}

fn failing(fault: Fault) -> (Network, Course) {
    let net = network("N3");
    let one = Controlled {
        heater: 0,
        rated: Watts(120.0),
        thermostat: law("on_off_1K"),
        probe: Node::WarmSide,
        lag: Seconds(120.0),
        set: Curve::Constant(c(31.0)),
        fault: Some(fault),
    };
    let settings = Settings {
        step: Seconds(10.0),
        duration: Seconds::from_hours(48.0),
        sample_every: Seconds::from_hours(1.0),
        room: Curve::Constant(c(20.0)),
    };
    let course = run(&net, &Temperatures::all(&net, c(20.0)), &[one], &settings).unwrap();
    (net, course)
}

#[test]
fn welded_contacts_and_a_fallen_probe_both_run_away_to_the_same_end() {
    let after_a_day = Seconds::from_hours(24.0);
    for fault in [Fault::StuckOn { from: after_a_day }, Fault::ProbeOut { from: after_a_day }] {
        let (net, course) = failing(fault);
        let end = course.samples.last().unwrap().temperatures.of(&net, Node::WarmSide).unwrap();
        let runaway = net.steady(&[Watts(120.0)], c(20.0)).unwrap().of(&net, Node::WarmSide).unwrap();
        assert!((end - runaway).kelvin().abs() < 0.01, "{fault:?}: {} and {}", end.degrees(), runaway.degrees());
        assert!(course.samples[24].temperatures.of(&net, Node::WarmSide).unwrap().degrees() < 32.0);
    }
}

#[test]
fn a_power_cut_cools_to_the_room_and_ends_with_it() {
    let (from, to) = (Seconds::from_hours(24.0), Seconds::from_hours(40.0));
    let (net, course) = failing(Fault::Off { from, to });
    let warm = |hour: usize| course.samples[hour].temperatures.of(&net, Node::WarmSide).unwrap().degrees();
    assert!(30.0 < warm(24) && warm(40) < 20.1 && 29.0 < warm(47), "{} {} {}", warm(24), warm(40), warm(47));
    assert!(course.lowest_c[0] < 20.1 && course.highest_c[0] < 32.5);
}

#[test]
fn what_cannot_be_run_is_refused() {
    let net = network("N2");
    let start = Temperatures::all(&net, c(20.0));
    let one = Controlled {
        heater: 0,
        rated: Watts(50.0),
        thermostat: Thermostat::Pulse { band: CelsiusDelta(2.0), cycle: Seconds(125.0) },
        probe: Node::Floor,
        lag: Seconds(0.0),
        set: Curve::Constant(c(31.0)),
        fault: None,
    };
    let settings = Settings {
        step: Seconds(10.0),
        duration: Seconds(3600.0),
        sample_every: Seconds(60.0),
        room: Curve::Constant(c(20.0)),
    };
    let fault = |controlled: Controlled, settings: &Settings| run(&net, &start, &[controlled], settings).err();
    assert_eq!(fault(one.clone(), &settings), Some(NetworkFault::Step));
    let other = Controlled { thermostat: law("on_off_1K"), heater: 1, ..one.clone() };
    assert_eq!(fault(other, &settings), Some(NetworkFault::Heaters { there: 1, given: 2 }));
    let absent = Controlled { thermostat: law("on_off_1K"), probe: Node::Bowl, ..one.clone() };
    assert_eq!(fault(absent, &settings), Some(NetworkFault::Missing(Node::Bowl)));
    let odd = Settings { duration: Seconds(3605.0), ..settings };
    assert_eq!(fault(Controlled { thermostat: law("on_off_1K"), ..one }, &odd), Some(NetworkFault::Step));
    assert!(net.steady(&[], c(20.0)).is_err());
}

/// A network with three nodes and any sound values.
fn any_network() -> impl Strategy<Value = Network> {
    let conductance = 0.05f64..20.0;
    (
        prop::array::uniform3(500.0f64..100_000.0),
        prop::array::uniform3(conductance.clone()),
        prop::array::uniform3(conductance),
        prop::array::uniform3(0.0f64..0.33),
    )
        .prop_map(|(capacities, links, rooms, shares)| {
            let nodes = [Node::WarmSide, Node::CoolSide, Node::Shell];
            let mut builder = Network::builder();
            for ((node, capacity), room) in nodes.iter().zip(capacities).zip(rooms) {
                builder = builder.node(*node, capacity).to_room(*node, room);
            }
            for (k, w_k) in links.iter().enumerate() {
                builder = builder.link(nodes[k], nodes[(k + 1) % 3], *w_k);
            }
            let split: Vec<(Node, f64)> = nodes.iter().copied().zip(shares).collect();
            builder.heater(&split).build().unwrap()
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn what_is_put_in_is_stored_or_lost(net in any_network(), power in 0.0f64..500.0, start in 0.0f64..60.0, room in -10.0f64..40.0, t in 1.0f64..100_000.0) {
        let (system, meter) = net.system().with_loss_meter(&net);
        let inputs = net.inputs(&[Watts(power)], c(room)).unwrap();
        let first = Temperatures::all(&net, c(start));
        let nodes = net.nodes().len();
        let state = nalgebra::DVector::from_iterator(nodes + 1, first.degrees().iter().copied().chain([0.0]));
        let end = system.stepper(Seconds(t)).unwrap().step(&state, &inputs);
        let list: Vec<Celsius> = end.iter().take(nodes).map(|degrees| c(*degrees)).collect();
        let end_nodes = Temperatures::from_list(&net, &list).unwrap();
        let stored = net.stored_j(&end_nodes, c(0.0)) - net.stored_j(&first, c(0.0));
        let given = power * t * net.share_inside(0).unwrap();
        let scale = given.abs() + stored.abs() + end[meter].abs() + 1.0;
        prop_assert!((given - stored - end[meter]).abs() < 1e-9 * scale, "{} {} {}", given, stored, end[meter]);
    }

    #[test]
    fn a_warmer_room_moves_every_node_as_much(net in any_network(), power in 0.0f64..500.0, room in -10.0f64..40.0, by in 0.1f64..20.0) {
        let cold = net.steady(&[Watts(power)], c(room)).unwrap();
        let warm = net.steady(&[Watts(power)], c(room + by)).unwrap();
        for (a, b) in cold.degrees().iter().zip(warm.degrees()) {
            prop_assert!((b - a - by).abs() < 1e-9);
        }
    }

    #[test]
    fn twice_the_power_is_twice_the_rise(net in any_network(), power in 0.0f64..500.0, room in -10.0f64..40.0) {
        let once = net.steady(&[Watts(power)], c(room)).unwrap();
        let twice = net.steady(&[Watts(2.0 * power)], c(room)).unwrap();
        for (a, b) in once.degrees().iter().zip(twice.degrees()) {
            prop_assert!((b - room - 2.0 * (a - room)).abs() < 1e-9 * (1.0 + b.abs()));
        }
    }

    #[test]
    fn two_steps_are_one_of_twice_the_length(net in any_network(), t in 1.0f64..50_000.0) {
        let system = net.system();
        let once = system.stepper(Seconds(t)).unwrap();
        let twice = system.stepper(Seconds(2.0 * t)).unwrap();
        let squared = once.transition() * once.transition();
        prop_assert!((squared - twice.transition()).abs().max() < 1e-12);
    }

    #[test]
    fn after_a_long_time_a_network_is_where_it_settles(net in any_network(), power in 0.0f64..500.0) {
        let longest = net.time_constants().unwrap().last().copied().unwrap();
        let start = Temperatures::all(&net, c(5.0));
        let end = net.after(&start, &[Watts(power)], c(20.0), Seconds(40.0 * longest.seconds())).unwrap();
        let settled = net.steady(&[Watts(power)], c(20.0)).unwrap();
        for (a, b) in end.degrees().iter().zip(settled.degrees()) {
            prop_assert!((a - b).abs() < 1e-8 * (1.0 + b.abs()), "{} {}", a, b);
        }
    }

    #[test]
    fn power_for_a_target_reaches_it(net in any_network(), target in 25.0f64..40.0) {
        prop_assume!(1e-6 < net.rise_k_w(0, Node::WarmSide).unwrap());
        let power = net.power_for(0, Node::WarmSide, c(target), c(20.0)).unwrap();
        let settled = net.steady(&[power], c(20.0)).unwrap().of(&net, Node::WarmSide).unwrap();
        prop_assert!((settled.degrees() - target).abs() < 1e-8);
        let warm_room = net.room_that_needs_no_heat(0, Node::WarmSide, c(target)).unwrap();
        prop_assert!((warm_room.degrees() - target).abs() < 1e-8);
    }
}

#[test]
fn the_cooling_time_is_the_area_under_the_fall_over_its_height() {
    let lump =
        Network::builder().node(Node::Air, 9000.0).to_room(Node::Air, 2.5).heater(&[(Node::Air, 1.0)]).build().unwrap();
    assert!((lump.cooling_time(0, Node::Air).unwrap().seconds() - 3600.0).abs() < 1e-9, "C/G of one lump");
    let two = Network::builder()
        .node(Node::WarmSide, 26_000.0)
        .node(Node::CoolSide, 30_000.0)
        .link(Node::WarmSide, Node::CoolSide, 2.4)
        .to_room(Node::WarmSide, 3.2)
        .to_room(Node::CoolSide, 3.6)
        .heater(&[(Node::WarmSide, 0.8), (Node::CoolSide, 0.2)])
        .build()
        .unwrap();
    let hot = two.steady(&[Watts(40.0)], c(20.0)).unwrap();
    for node in [Node::WarmSide, Node::CoolSide] {
        let (mut area, mut excess) = (0.0, Vec::new());
        let place = two.place(node).unwrap();
        two.follow(&hot, &[Watts(0.0)], |_| 20.0, Seconds(30.0), 10_000, |now| excess.push(now[place] - 20.0)).unwrap();
        for pair in excess.windows(2) {
            area += 30.0 * 0.5 * (pair[0] + pair[1]);
        }
        let got = two.cooling_time(0, node).unwrap().seconds();
        assert!((got / (area / excess[0]) - 1.0).abs() < 1e-4, "{node:?}: {got}");
    }
    assert!(two.cooling_time(1, Node::WarmSide).is_err() && two.cooling_time(0, Node::Bowl).is_err());
}

#[test]
fn a_step_in_place_is_the_same_step_however_many_states_there_are() {
    // Seven nodes fit into the lanes of a step, eight do, nine and ten do not.
    for sensors in 0..=3 {
        let net = network("N7");
        let mut system = net.system();
        for _ in 0..sensors {
            (system, _) = system.with_sensor(Node::AirWarm, Seconds(300.0)).unwrap();
        }
        let states = system.len();
        let stepper = system.stepper(Seconds(60.0)).unwrap();
        let start = nalgebra::DVector::from_iterator(states, (0..states).map(|at| 20.0 + at as f64));
        let inputs = net.inputs(&[Watts(80.0)], c(18.0)).unwrap();
        let (mut state, mut spare) = (start.clone(), start.clone());
        let mut expected = start;
        for _ in 0..50 {
            stepper.step_in_place(&mut state, &inputs, &mut spare);
            expected = stepper.step(&expected, &inputs);
        }
        assert_eq!(states, 7 + sensors);
        for (is, wanted) in state.iter().zip(expected.iter()) {
            assert!((is - wanted).abs() < 1e-9, "{states} states: {is} against {wanted}");
        }
    }
}
