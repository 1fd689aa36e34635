//! From an enclosure to a network.

use super::{Enclosure, Films, Heater, Spots};
use crate::physics::network::{Network, NetworkFault, Node, Temperatures};
use units::{Celsius, Watts};

/// View factor of a floor to walls and lid; the rest sees the other floor.
const FLOOR_SEES_SHELL: f64 = 0.9;
/// Bowl to air, convection and radiation together, W/(m²·K).
pub const BOWL_TO_AIR_W_M2K: f64 = 8.0;
/// Bowl to the floor it stands on, W/(m²·K).
pub const BOWL_TO_FLOOR_W_M2K: f64 = 10.0;

/// The full network: warm and cool air, warm and cool floor, shell; a bowl where there is one; a body for each heater
/// that has a lag.
pub fn full_network(enclosure: &Enclosure, films: &Films, heaters: &[Heater]) -> Result<Network, NetworkFault> {
    let (air_j_k, floor_j_k, shell_j_k) = enclosure.capacities_j_k();
    let (floor, shell) = (enclosure.half_floor_m2(), enclosure.shell_m2());
    let mut net = Network::builder()
        .node(Node::AirWarm, air_j_k)
        .node(Node::AirCool, air_j_k)
        .node(Node::FloorWarm, floor_j_k)
        .node(Node::FloorCool, floor_j_k)
        .node(Node::Shell, shell_j_k)
        .link(Node::AirWarm, Node::Shell, films.air_warm_w_m2k * shell / 2.0)
        .link(Node::AirCool, Node::Shell, films.air_cool_w_m2k * shell / 2.0)
        .link(Node::AirWarm, Node::FloorWarm, films.floor_warm_w_m2k * floor)
        .link(Node::AirCool, Node::FloorCool, films.floor_cool_w_m2k * floor)
        .link(Node::FloorWarm, Node::Shell, films.radiation_warm_w_m2k * FLOOR_SEES_SHELL * floor)
        .link(Node::FloorCool, Node::Shell, films.radiation_cool_w_m2k * FLOOR_SEES_SHELL * floor)
        .link(Node::FloorWarm, Node::FloorCool, enclosure.floor_to_floor_w_k)
        .link(Node::AirWarm, Node::AirCool, films.mixing_w_k)
        .to_room(Node::AirWarm, films.ventilation_w_k / 2.0)
        .to_room(Node::AirCool, films.ventilation_w_k / 2.0)
        .to_room(Node::FloorWarm, enclosure.floor_to_room_w_k())
        .to_room(Node::FloorCool, enclosure.floor_to_room_w_k())
        .to_room(Node::Shell, enclosure.shell_to_room_w_k());
    if let Some(bowl) = &enclosure.bowl {
        net = net
            .node(Node::Bowl, Enclosure::bowl_j_k(bowl))
            .link(Node::Bowl, Node::AirCool, BOWL_TO_AIR_W_M2K * bowl.area_m2())
            .link(Node::Bowl, Node::FloorCool, BOWL_TO_FLOOR_W_M2K * bowl.area_m2())
            .constant(Node::Bowl, -bowl.latent.watts());
    }
    for (number, heater) in heaters.iter().enumerate() {
        let split = heater.split(enclosure);
        let parts = [(Node::FloorWarm, split.floor), (Node::Shell, split.shell), (Node::AirWarm, split.air)];
        let to_room = 1.0 - split.floor - split.shell - split.air;
        match heater.body() {
            None => net = net.heater(&parts),
            Some((lag, rise_k)) => {
                // At full power the body stands `rise_k` over its surroundings and gives each part its share.
                let total_w_k = heater.rated.watts() / rise_k;
                let body = Node::Heater(number);
                net = net.node(body, lag.seconds() * total_w_k).to_room(body, to_room.max(0.0) * total_w_k);
                for (node, share) in parts {
                    net = net.link(body, node, share * total_w_k);
                }
                net = net.heater(&[(body, 1.0)]);
            }
        }
    }
    net.build()
}

fn members(network: &Network, wanted: impl Fn(Node) -> bool) -> Vec<Node> {
    network.nodes().iter().copied().filter(|node| wanted(*node)).collect()
}

/// The full network lumped to warm side, cool side and shell: what logs can tell apart.
pub fn three_nodes(full: &Network) -> Result<Network, NetworkFault> {
    let warm = members(full, |n| matches!(n, Node::AirWarm | Node::FloorWarm | Node::Heater(_)));
    let cool = members(full, |n| matches!(n, Node::AirCool | Node::FloorCool | Node::Bowl));
    full.lumped(&[(Node::WarmSide, &warm), (Node::CoolSide, &cool), (Node::Shell, &[Node::Shell])])
}

/// The full network lumped to air with shell, and the warm floor: a tub or rack slot.
pub fn two_nodes(full: &Network) -> Result<Network, NetworkFault> {
    let floor = members(full, |n| matches!(n, Node::FloorWarm | Node::Heater(_)));
    let rest = members(full, |n| !matches!(n, Node::FloorWarm | Node::Heater(_)));
    full.lumped(&[(Node::Air, &rest), (Node::Floor, &floor)])
}

/// A network whose films fit the temperatures that it settles to.
#[derive(Clone, Debug)]
pub struct Settled {
    /// The network, to be kept for everything near this state.
    pub network: Network,
    /// Where it settles.
    pub temperatures: Temperatures,
    /// Its films.
    pub films: Films,
}

/// Solves with usual films, evaluates the films at the solution, solves again, `rounds` times. One round is within
/// 0.2 K of the full balance, two within 0.06 K.
pub fn settled(
    enclosure: &Enclosure,
    heaters: &[Heater],
    powers: &[Watts],
    room: Celsius,
    rounds: usize,
) -> Result<Settled, NetworkFault> {
    let mut films = Films::usual(enclosure).ok_or(NetworkFault::Range("films"))?;
    let mut network = full_network(enclosure, &films, heaters)?;
    let mut temperatures = network.steady(powers, room)?;
    for _ in 0..rounds {
        let of = |node: Node| temperatures.of(&network, node);
        let spots = Spots {
            air_warm: of(Node::AirWarm)?,
            air_cool: of(Node::AirCool)?,
            floor_warm: of(Node::FloorWarm)?,
            floor_cool: of(Node::FloorCool)?,
            shell: of(Node::Shell)?,
            room,
        };
        films = Films::at(enclosure, &spots).ok_or(NetworkFault::Range("films"))?;
        network = full_network(enclosure, &films, heaters)?;
        temperatures = network.steady(powers, room)?;
    }
    Ok(Settled { network, temperatures, films })
}
