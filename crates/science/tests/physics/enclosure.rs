use crate::table::{Worst, c, m, rows};
use science::physics::enclosure::*;
use science::physics::materials::Material;
use science::physics::network::Node;
use units::{CelsiusDelta, Grams, Watts};

/// The box of the full balance: 1.2 × 0.6 × 0.6 m of 10 mm foamed PVC, on a shelf that makes 0.5 m²K/W with the floor.
fn large_box() -> Enclosure {
    let walls = Sheet { material: Material::FoamedPvc, thickness: m(0.01) };
    Enclosure {
        shelf_m2k_w: 0.5 - 0.01 / 0.06,
        floor_to_floor_w_k: 0.0,
        ..Enclosure::plain(m(1.2), m(0.6), m(0.6), walls)
    }
}

fn heater(radiant: f64, watts: f64) -> Heater {
    let split = Split { floor: 0.6 * radiant, shell: 0.4 * radiant, air: 1.0 - radiant };
    Heater { kind: HeaterKind::Other(split), rated: Watts(watts) }
}

#[test]
fn a_linear_network_comes_as_close_to_the_full_balance_as_the_reference_does() {
    let balances = rows("nonlinear_steady");
    let (mut deviations, mut once, mut twice) = (Worst::default(), Worst::default(), Worst::default());
    for (row, wanted) in balances.iter().zip(rows("linearised_error")) {
        assert_eq!(row.number("P_W"), wanted.number("P_W"));
        let (watts, radiant, room) = (row.number("P_W"), row.number("radiant_fraction"), row.celsius("T_room_C"));
        assert_eq!(radiant, wanted.number("radiant_fraction"));
        let full = ["air_w", "air_c", "floor_w", "floor_c", "shell"].map(|node| row.number(node));
        let largest = |rounds: usize| {
            let settled = settled(&large_box(), &[heater(radiant, watts)], &[Watts(watts)], room, rounds).unwrap();
            let off = settled.temperatures.degrees().iter().zip(full).map(|(a, b)| (a - b).abs());
            off.fold(0.0, f64::max)
        };
        let columns = ["max_err_K_defaults", "after_1_update", "after_2_updates", "after_3_updates"];
        for (rounds, column) in columns.into_iter().enumerate() {
            deviations.absolute(largest(rounds), wanted.number(column), format!("{watts} W {radiant} {column}"));
        }
        once.absolute(largest(1), 0.0, watts);
        twice.absolute(largest(2), 0.0, watts);
    }
    deviations.within(1e-6);
    once.within(0.2);
    twice.within(0.06);
}

#[test]
fn the_full_network_has_bowl_and_heater_bodies_where_they_are() {
    let bowl = Bowl { diameter: m(0.2), water: Grams::new(1500.0).unwrap(), latent: Watts(1.2) };
    let enclosure = Enclosure { bowl: Some(bowl), ..large_box() };
    let ceramic = Heater { kind: HeaterKind::Ceramic, rated: Watts(100.0) };
    let films = Films::usual(&enclosure).unwrap();
    let net = full_network(&enclosure, &films, &[ceramic]).unwrap();
    assert_eq!(net.nodes().len(), 7);
    let at = net.steady(&[Watts(70.0)], c(20.0)).unwrap();
    let of = |node: Node| at.of(&net, node).unwrap().degrees();
    assert!(of(Node::AirCool) < of(Node::AirWarm) && of(Node::FloorCool) < of(Node::FloorWarm));
    // What evaporates keeps the bowl below its surroundings.
    assert!(of(Node::Bowl) < of(Node::AirCool).max(of(Node::FloorCool)));
    assert!(100.0 < of(Node::Heater(0)), "an emitter is hot: {}", of(Node::Heater(0)));
    // All heat goes to the room in the end, less what evaporates.
    assert!((net.loss(&at, c(20.0)).watts() - (70.0 - 1.2)).abs() < 1e-9);
}

#[test]
fn smaller_networks_lose_as_much_per_kelvin_when_all_nodes_are_alike() {
    let enclosure = large_box();
    let films = Films::usual(&enclosure).unwrap();
    let mat = Heater { kind: HeaterKind::MatBelow, rated: Watts(30.0) };
    let full = full_network(&enclosure, &films, &[mat]).unwrap();
    let (three, two) = (three_nodes(&full).unwrap(), two_nodes(&full).unwrap());
    assert_eq!((three.nodes().len(), two.nodes().len()), (3, 2));
    let loss = |net: &science::physics::network::Network| {
        let even = science::physics::network::Temperatures::all(net, c(30.0));
        net.loss(&even, c(20.0)).watts()
    };
    assert!((loss(&three) - loss(&full)).abs() < 1e-9 && (loss(&two) - loss(&full)).abs() < 1e-9);
    assert!((three.capacity_j_k() - full.capacity_j_k()).abs() < 1e-6);
    // Lumping shortens no way: the warm side of the smaller network still is the warmest.
    let at = three.steady(&[Watts(30.0)], c(20.0)).unwrap();
    assert!(at.of(&three, Node::CoolSide).unwrap() < at.of(&three, Node::WarmSide).unwrap());
}

#[test]
fn more_insulation_less_power_and_a_slower_fall() {
    let bare = large_box();
    let wrapped = Enclosure { wrap_m2k_w: 0.5, ..large_box() };
    let need = |enclosure: &Enclosure| {
        let net = settled(enclosure, &[heater(0.5, 80.0)], &[Watts(60.0)], c(20.0), 2).unwrap().network;
        let power = net.power_for(0, Node::AirWarm, c(30.0), c(20.0)).unwrap().watts();
        (power, net.time_constants().unwrap().last().unwrap().seconds())
    };
    let ((bare_w, bare_s), (wrapped_w, wrapped_s)) = (need(&bare), need(&wrapped));
    assert!(wrapped_w < 0.7 * bare_w && 1.3 * bare_s < wrapped_s, "{bare_w} {wrapped_w} W, {bare_s} {wrapped_s} s");
    let loss = |enclosure: &Enclosure| losses(enclosure, CelsiusDelta(6.0)).unwrap().total_w_k();
    assert!(loss(&wrapped) < 0.6 * loss(&bare));
}

#[test]
fn a_mesh_lid_costs_heat_and_covering_it_saves() {
    let glass = Sheet { material: Material::Glass, thickness: m(0.004) };
    let tank =
        |passes: f64| Enclosure { lid: Lid::Mesh { passes }, ..Enclosure::plain(m(0.6), m(0.45), m(0.45), glass) };
    let power = |enclosure: &Enclosure| losses(enclosure, CelsiusDelta(6.0)).unwrap().power(CelsiusDelta(6.0)).watts();
    assert!(power(&tank(0.1)) < power(&tank(0.4)) && power(&tank(0.4)) < power(&tank(0.7)));
    let settled = settled(&tank(0.4), &[heater(0.6, 60.0)], &[Watts(40.0)], c(20.0), 3).unwrap();
    // Warm air drives its own exchange: the lid loses more than at the usual rise where the rise is larger.
    assert!(1.0 < settled.films.ventilation_w_k && settled.films.ventilation_w_k < 6.0);
}

#[test]
fn every_kind_of_heater_gives_out_what_it_takes_in() {
    let enclosure = large_box();
    for kind in [HeaterKind::MatBelow, HeaterKind::InFloor, HeaterKind::Ceramic, HeaterKind::Panel, HeaterKind::Lamp] {
        let heater = Heater { kind, rated: Watts(60.0) };
        let split = heater.split(&enclosure);
        let sum = split.floor + split.shell + split.air;
        assert!((0.5..=1.0 + 1e-12).contains(&sum), "{kind:?}: {split:?}");
        let net = full_network(&enclosure, &Films::usual(&enclosure).unwrap(), &[heater]).unwrap();
        let at = net.steady(&[Watts(60.0)], c(20.0)).unwrap();
        let has_body = net.nodes().contains(&Node::Heater(0));
        // Without a body the share of the room is lost before any node sees it.
        let reaches = if has_body { 60.0 } else { 60.0 * sum };
        assert!((net.loss(&at, c(20.0)).watts() - reaches).abs() < 1e-9, "{kind:?}");
        assert!(0.0 < net.gradient_k_w(0, Node::AirWarm, Node::AirCool).unwrap(), "{kind:?}");
    }
}
