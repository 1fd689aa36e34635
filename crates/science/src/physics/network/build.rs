//! Making a network.

use super::{NetworkFault, Node};
use nalgebra::linalg::LU;
use nalgebra::{DMatrix, DVector, Dyn};

/// A thermal network. Its nodes keep the order in which they were named.
#[derive(Clone, Debug)]
pub struct Network {
    pub(super) nodes: Vec<Node>,
    pub(super) capacities_j_k: DVector<f64>,
    /// K: conductances between the nodes and to the room.
    pub(super) k_w_k: DMatrix<f64>,
    pub(super) to_room_w_k: DVector<f64>,
    /// B: one column per heater, the share of its power that each node gets.
    pub(super) heaters: DMatrix<f64>,
    /// q: heat that flows in all the time, W.
    pub(super) constant_w: DVector<f64>,
    pub(super) solved: LU<f64, Dyn, Dyn>,
}

/// Collects the parts of a [`Network`].
#[derive(Clone, Debug, Default)]
pub struct Builder {
    nodes: Vec<(Node, f64)>,
    links: Vec<(Node, Node, f64)>,
    to_room: Vec<(Node, f64)>,
    heaters: Vec<Vec<(Node, f64)>>,
    constant: Vec<(Node, f64)>,
}

impl Builder {
    /// A node with its heat capacity, J/K.
    #[must_use]
    pub fn node(mut self, node: Node, capacity_j_k: f64) -> Builder {
        self.nodes.push((node, capacity_j_k));
        self
    }

    /// A conductance between two nodes, W/K. Several between the same add up.
    #[must_use]
    pub fn link(mut self, first: Node, second: Node, conductance_w_k: f64) -> Builder {
        self.links.push((first, second, conductance_w_k));
        self
    }

    /// A conductance to the room, W/K. Several add up.
    #[must_use]
    pub fn to_room(mut self, node: Node, conductance_w_k: f64) -> Builder {
        self.to_room.push((node, conductance_w_k));
        self
    }

    /// A heater: the share of its power that each node gets. What is left of 1 goes to the room and is lost.
    #[must_use]
    pub fn heater(mut self, shares: &[(Node, f64)]) -> Builder {
        self.heaters.push(shares.to_vec());
        self
    }

    /// Heat that flows into a node all the time, W; negative for what evaporates.
    #[must_use]
    pub fn constant(mut self, node: Node, heat_w: f64) -> Builder {
        self.constant.push((node, heat_w));
        self
    }

    /// The network, or why there is none.
    pub fn build(self) -> Result<Network, NetworkFault> {
        let nodes: Vec<Node> = self.nodes.iter().map(|(node, _)| *node).collect();
        let n = nodes.len();
        if n == 0 {
            return Err(NetworkFault::Empty);
        }
        for (at, (node, capacity)) in self.nodes.iter().enumerate() {
            if nodes.iter().take(at).any(|before| before == node) {
                return Err(NetworkFault::Twice(*node));
            }
            if !(capacity.is_finite() && 0.0 < *capacity) {
                return Err(NetworkFault::Capacity(*node));
            }
        }
        let place = |node: Node| nodes.iter().position(|x| *x == node).ok_or(NetworkFault::Missing(node));
        let mut k = DMatrix::zeros(n, n);
        for (first, second, w_k) in self.links {
            let (i, j) = (place(first)?, place(second)?);
            let w_k = conductance(w_k)?;
            k[(i, i)] += w_k;
            k[(j, j)] += w_k;
            k[(i, j)] -= w_k;
            k[(j, i)] -= w_k;
        }
        let mut to_room = DVector::zeros(n);
        for (node, w_k) in self.to_room {
            let i = place(node)?;
            let w_k = conductance(w_k)?;
            to_room[i] += w_k;
            k[(i, i)] += w_k;
        }
        let mut heaters = DMatrix::zeros(n, self.heaters.len());
        for (column, shares) in self.heaters.iter().enumerate() {
            let sum: f64 = shares.iter().map(|(_, share)| share).sum();
            if shares.iter().any(|(_, share)| !(0.0..=1.0).contains(share)) || 1.0 + 1e-9 < sum {
                return Err(NetworkFault::Shares(sum));
            }
            for (node, share) in shares {
                heaters[(place(*node)?, column)] += share;
            }
        }
        let mut constant = DVector::zeros(n);
        for (node, heat_w) in self.constant {
            constant[place(node)?] += heat_w;
        }
        let capacities_j_k = DVector::from_iterator(n, self.nodes.iter().map(|(_, capacity)| *capacity));
        Network::from_parts(nodes, capacities_j_k, k, to_room, heaters, constant)
    }
}

fn conductance(w_k: f64) -> Result<f64, NetworkFault> {
    if w_k.is_finite() && 0.0 <= w_k { Ok(w_k) } else { Err(NetworkFault::Conductance(w_k)) }
}

impl Network {
    /// An empty builder.
    pub fn builder() -> Builder {
        Builder::default()
    }

    fn from_parts(
        nodes: Vec<Node>,
        capacities_j_k: DVector<f64>,
        k_w_k: DMatrix<f64>,
        to_room_w_k: DVector<f64>,
        heaters: DMatrix<f64>,
        constant_w: DVector<f64>,
    ) -> Result<Network, NetworkFault> {
        let solved = k_w_k.clone().lu();
        // With a way to the room for every node a room at 1 °C brings every node to 1 °C.
        let ones = solved.solve(&to_room_w_k).ok_or(NetworkFault::Enclosed)?;
        if !ones.iter().all(|one| (one - 1.0).abs() < 1e-6) {
            return Err(NetworkFault::Enclosed);
        }
        Ok(Network { nodes, capacities_j_k, k_w_k, to_room_w_k, heaters, constant_w, solved })
    }

    /// The nodes in their order.
    pub fn nodes(&self) -> &[Node] {
        &self.nodes
    }

    /// How many heaters it has.
    pub fn heater_count(&self) -> usize {
        self.heaters.ncols()
    }

    /// Share of a heater's power that reaches nodes; the rest is lost to the room at once. `None` without that heater.
    pub fn share_inside(&self, heater: usize) -> Option<f64> {
        (heater < self.heater_count()).then(|| self.heaters.column(heater).sum())
    }

    /// Heat capacity of all nodes together, J/K.
    pub fn capacity_j_k(&self) -> f64 {
        self.capacities_j_k.sum()
    }

    /// Place of a node.
    pub fn place(&self, node: Node) -> Result<usize, NetworkFault> {
        self.nodes.iter().position(|x| *x == node).ok_or(NetworkFault::Missing(node))
    }

    /// The same network with its ways to the room, the conductance between two of its nodes, the air of both sides, and the
    /// heat capacities of all the rest each times a factor. Air holds what its volume does and the body of a heater what it
    /// did. Every factor must be above zero. So a network that was described is brought to what was measured, and keeps its
    /// form: what leaves, what goes from the warm air to the cool, and what is held.
    pub fn scaled(
        &self,
        to_room: f64,
        [first, second]: [Node; 2],
        between: f64,
        capacity: f64,
    ) -> Result<Network, NetworkFault> {
        if ![to_room, between, capacity].iter().all(|factor| factor.is_finite() && 0.0 < *factor) {
            return Err(NetworkFault::Range("a factor must be above zero"));
        }
        let mut k = self.k_w_k.clone();
        for (place, g) in self.to_room_w_k.iter().enumerate() {
            k[(place, place)] += (to_room - 1.0) * g;
        }
        let (first, second) = (self.place(first)?, self.place(second)?);
        let more = (between - 1.0) * -self.k_w_k[(first, second)];
        k[(first, first)] += more;
        k[(second, second)] += more;
        k[(first, second)] -= more;
        k[(second, first)] -= more;
        let mut capacities_j_k = &self.capacities_j_k * capacity;
        for (place, node) in self.nodes.iter().enumerate() {
            if [first, second].contains(&place) || matches!(node, Node::Heater(_)) {
                capacities_j_k[place] = self.capacities_j_k[place];
            }
        }
        Network::from_parts(
            self.nodes.clone(),
            capacities_j_k,
            k,
            &self.to_room_w_k * to_room,
            self.heaters.clone(),
            self.constant_w.clone(),
        )
    }

    /// A smaller network: each group of nodes becomes one, its capacities, ways to the room, heater shares and sources
    /// added up; conductances inside a group vanish. Every node must stand in exactly one group.
    pub fn lumped(&self, groups: &[(Node, &[Node])]) -> Result<Network, NetworkFault> {
        let (n, m) = (self.nodes.len(), groups.len());
        let mut gather = DMatrix::<f64>::zeros(m, n);
        for (row, (_, members)) in groups.iter().enumerate() {
            for member in *members {
                let column = self.place(*member)?;
                if gather.column(column).iter().any(|taken| *taken != 0.0) {
                    return Err(NetworkFault::Twice(*member));
                }
                gather[(row, column)] = 1.0;
            }
        }
        if let Some(left) = (0..n).find(|column| gather.column(*column).iter().all(|taken| *taken == 0.0)) {
            return Err(self.nodes.get(left).map_or(NetworkFault::Empty, |node| NetworkFault::Missing(*node)));
        }
        Network::from_parts(
            groups.iter().map(|(node, _)| *node).collect(),
            &gather * &self.capacities_j_k,
            &gather * &self.k_w_k * gather.transpose(),
            &gather * &self.to_room_w_k,
            &gather * &self.heaters,
            &gather * &self.constant_w,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pair() -> Builder {
        Network::builder().node(Node::Air, 9000.0).node(Node::Floor, 25_000.0).link(Node::Air, Node::Floor, 4.0)
    }

    #[test]
    fn what_is_no_network_is_named() {
        use NetworkFault::*;
        let cases = [
            (Network::builder().build(), Empty),
            (pair().node(Node::Air, 1.0).to_room(Node::Air, 1.0).build(), Twice(Node::Air)),
            (pair().to_room(Node::Bowl, 1.0).build(), Missing(Node::Bowl)),
            (pair().node(Node::Bowl, 0.0).build(), Capacity(Node::Bowl)),
            (pair().to_room(Node::Air, -1.0).build(), Conductance(-1.0)),
            (pair().to_room(Node::Air, 1.0).heater(&[(Node::Air, 0.7), (Node::Floor, 0.5)]).build(), Shares(1.2)),
            (pair().build(), Enclosed),
            (pair().to_room(Node::Air, 1.0).node(Node::Bowl, 1.0).build(), Enclosed),
        ];
        for (made, fault) in cases {
            assert_eq!(made.err(), Some(fault));
        }
    }

    #[test]
    fn lumping_keeps_capacity_and_the_way_to_the_room() {
        let network =
            pair().to_room(Node::Air, 5.0).to_room(Node::Floor, 0.8).heater(&[(Node::Floor, 0.85)]).build().unwrap();
        let one = network.lumped(&[(Node::Air, &[Node::Air, Node::Floor])]).unwrap();
        assert_eq!(one.capacity_j_k(), 34_000.0);
        assert!((one.to_room_w_k[0] - 5.8).abs() < 1e-12 && (one.k_w_k[(0, 0)] - 5.8).abs() < 1e-12);
        assert!((one.heaters[(0, 0)] - 0.85).abs() < 1e-12);
        assert_eq!(network.lumped(&[(Node::Air, &[Node::Air])]).err(), Some(NetworkFault::Missing(Node::Floor)));
        let twice: &[(Node, &[Node])] = &[(Node::Air, &[Node::Air, Node::Floor]), (Node::Floor, &[Node::Floor])];
        assert_eq!(network.lumped(twice).err(), Some(NetworkFault::Twice(Node::Floor)));
    }

    #[test]
    fn a_scaled_network_is_the_one_built_with_scaled_parts() {
        let build = |to_room: f64, between: f64, capacity: f64| {
            Network::builder()
                .node(Node::Air, 9000.0)
                .node(Node::Floor, 25_000.0)
                .node(Node::Shell, 4000.0 * capacity)
                .link(Node::Air, Node::Floor, 4.0 * between)
                .link(Node::Air, Node::Shell, 3.0)
                .to_room(Node::Air, 5.0 * to_room)
                .to_room(Node::Floor, 0.8 * to_room)
                .heater(&[(Node::Floor, 0.85)])
                .build()
                .unwrap()
        };
        let (sides, plain) = ([Node::Air, Node::Floor], build(1.0, 1.0, 1.0));
        let (made, wanted) = (plain.scaled(1.4, sides, 0.6, 2.0).unwrap(), build(1.4, 0.6, 2.0));
        assert!(
            (&made.k_w_k - &wanted.k_w_k).amax() < 1e-12 && (&made.to_room_w_k - &wanted.to_room_w_k).amax() < 1e-12
        );
        assert_eq!(made.capacities_j_k, wanted.capacities_j_k);
        for factor in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(made.scaled(1.0, sides, factor, 1.0).is_err(), "{factor}");
            assert!(
                made.scaled(factor, sides, 1.0, 1.0).is_err() && made.scaled(1.0, sides, 1.0, factor).is_err(),
                "{factor}"
            );
        }
    }
}
