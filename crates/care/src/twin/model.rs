//! One set of values as a model: where it settles, what its heaters must give, how it changes in time.

mod day;

use records::facts::{Heater, HeaterKind, Lid, Probe, Spot, Thermostat};
use science::physics::enclosure::{self as box_of, Bowl, Enclosure, Films, Sheet, Split, Spots, full_network};
use science::physics::materials::Material;
use science::physics::moisture::evaporation::{BOWL_M_S, BOWL_UNDER_MESH_M_S};
use science::physics::moisture::{AirExchange, Balance, Source};
use science::physics::network::{Network, NetworkFault, Node, Temperatures};
use science::physics::ventilation::heat_of_air_changes_w_k;
use science::physics::walls::film;
use units::{Celsius, Grams, Metres, RelativeHumidity, Seconds, Watts};

use super::guesses::{Unknown, Values, floor_of, wall_of};
use super::matched::{Factors, Goal};
use super::material::Floor;
use super::{Description, guesses};

/// The spots of which the model speaks, in the order of its courses.
pub const SPOTS: [Spot; 4] = [Spot::WarmSurface, Spot::WarmAir, Spot::CoolAir, Spot::CoolSurface];

/// Where a thermostat feels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// At a spot.
    At(Spot),
    /// Between the mat and the floor.
    Mat,
    /// In the room.
    Room,
}

/// What drives a heater.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Drive {
    /// A thermostat that holds a place at a temperature, °C.
    Holds(Place, f64),
    /// Always this power, W.
    Gives(f64),
}

/// Where a thermostat feels, by where its probe is. Not told: at the warm surface for what heats the floor, else in the
/// warm air.
pub fn place_of(heater: &Heater) -> Place {
    match heater.probe {
        Some(Probe::At(Spot::Room | Spot::Outdoors) | Probe::Outside) => Place::Room,
        Some(Probe::At(Spot::CoolAir | Spot::Water)) => Place::At(Spot::CoolAir),
        Some(Probe::At(Spot::CoolSurface | Spot::HumidHide)) => Place::At(Spot::CoolSurface),
        Some(Probe::At(Spot::WarmAir)) => Place::At(Spot::WarmAir),
        Some(Probe::At(Spot::WarmSurface | Spot::Hide)) => Place::At(Spot::WarmSurface),
        Some(Probe::BetweenMatAndFloor) => Place::Mat,
        Some(Probe::Loose | Probe::At(Spot::ControlProbe)) | None => match heater.kind {
            HeaterKind::Mat | HeaterKind::Cable | HeaterKind::Rock => Place::At(Spot::WarmSurface),
            HeaterKind::Ceramic | HeaterKind::Panel | HeaterKind::Lamp | HeaterKind::Room | HeaterKind::Other => {
                Place::At(Spot::WarmAir)
            }
        },
    }
}

/// A heater in the model.
#[derive(Clone, Copy, Debug)]
struct Unit {
    physical: box_of::Heater,
    /// What it draws when on, W; infinite where its watts are not told.
    most_w: f64,
    /// By how much the warmed part of the floor stands over the warm floor, K for a W; without the film.
    spot_1_m2: f64,
    /// From the mat to the floor's surface, K for a W.
    mat_k_w: f64,
}

/// An enclosure with one set of values.
#[derive(Clone, Debug)]
pub struct Model {
    values: Values,
    enclosure: Enclosure,
    units: Vec<Unit>,
    is_mesh: bool,
    factors: Factors,
}

/// Watts that a heater is taken at where none are told: only its lag depends on it.
const USUAL_WATTS: f64 = 60.0;
/// Rounds of evaluating the films at the solution; two are within 0.06 K of the full balance.
const ROUNDS: usize = 3;
/// Rounds of going through the heaters, each with the others as they are.
const TURNS: usize = 60;

/// The second power that is tried for a target, after none at all.
const FIRST_TRIED_W: f64 = 20.0;
/// A target is met within this; far below what any thermometer shows.
const NEAR_ENOUGH_K: f64 = 1e-3;
/// Secants after which a target counts as out of reach.
const MOST_SECANTS: usize = 12;

fn metres(cm: f64) -> Result<Metres, NetworkFault> {
    Metres::new(cm / 100.0).ok_or(NetworkFault::Range("length"))
}

fn degrees(c: f64) -> Result<Celsius, NetworkFault> {
    Celsius::new(c).ok_or(NetworkFault::Range("temperature"))
}

impl Model {
    /// The model of a description with one set of values.
    pub fn new(description: &Description, values: &Values) -> Result<Model, NetworkFault> {
        let of = |unknown| values.of(unknown);
        let material = guesses::wall_of(description).unwrap_or(Material::Plywood);
        let walls = Sheet { material, thickness: metres(of(Unknown::Thickness) / 10.0)? };
        let depth_cm = of(Unknown::Substrate);
        let floor = floor_of(description);
        let lies = if floor == Floor::Moist { Material::MoistSubstrate } else { Material::DrySubstrate };
        let substrate = if floor == Floor::Bare || depth_cm <= 0.0 {
            None
        } else {
            Some(Sheet { material: lies, thickness: metres(depth_cm)? })
        };
        let (length, width) = (metres(description.length_cm)?, metres(description.width_cm)?);
        let open = of(Unknown::MeshShare);
        let is_mesh = 0.0 < open;
        let lid = if is_mesh {
            // Of an opening the exchange goes with its area to 5/4: a part passes that share of what the whole would.
            box_of::Lid::Mesh { passes: of(Unknown::Mesh) * open.powf(1.25) }
        } else {
            box_of::Lid::Solid(walls)
        };
        let across = of(Unknown::Bowl);
        let water_g = std::f64::consts::PI * across * across / 4.0 * of(Unknown::BowlDepth);
        let bowl = Bowl {
            diameter: metres(across)?,
            water: Grams::new(water_g).ok_or(NetworkFault::Range("water"))?,
            latent: Watts(0.0),
        };
        let enclosure = Enclosure {
            length,
            width,
            height: metres(description.height_cm)?,
            walls,
            front: walls,
            lid,
            wrap_m2k_w: of(Unknown::SurfaceFilm) - film::SIDEWAYS_M2K_W,
            substrate,
            shelf_m2k_w: of(Unknown::Stand),
            air_changes_per_h: of(Unknown::AirChanges),
            bowl: Some(bowl),
            decor_j_k: of(Unknown::Decor) * description.floor_m2() * Material::Stone.properties().heat_j_kgk,
            floor_to_floor_w_k: 0.15,
        };
        let units =
            description.heaters.iter().enumerate().map(|(index, heater)| unit(heater, index, &enclosure, values));
        let units = units.collect();
        let mut model = Model { values: *values, enclosure, units, is_mesh, factors: Factors::NONE };
        if let Some(fitted) = &description.fitted {
            model.factors = Goal::of(fitted, values)?.factors(&model)?;
        }
        Ok(model)
    }

    /// The set of values.
    pub fn values(&self) -> &Values {
        &self.values
    }

    /// The box.
    pub fn enclosure(&self) -> &Enclosure {
        &self.enclosure
    }

    /// The same in a wrap of this resistance, m²·K/W, with the lid closed as far as that lets air through.
    #[must_use]
    pub fn wrapped(&self, wrap_m2k_w: f64, lid_passes: f64) -> Model {
        let mut model = self.clone();
        model.enclosure.wrap_m2k_w += wrap_m2k_w;
        model.enclosure.air_changes_per_h *= lid_passes;
        if let box_of::Lid::Mesh { passes } = &mut model.enclosure.lid {
            *passes *= lid_passes;
        }
        model
    }

    /// How many heaters it has.
    pub fn heater_count(&self) -> usize {
        self.units.len()
    }

    /// What a heater draws when on, W; infinite where its watts are not told.
    pub fn most_w(&self, heater: usize) -> f64 {
        self.units.get(heater).map_or(0.0, |unit| unit.most_w)
    }

    /// The share of the main heater's power that the warm side gets of what both get; walls and lid are of both.
    pub fn warm_share(&self) -> Option<f64> {
        let split = self.units.first()?.physical.split(&self.enclosure);
        let all = split.floor + split.air + split.shell;
        (0.0 < all).then(|| (split.floor + split.air + split.shell / 2.0) / all)
    }

    /// The same with other factors.
    pub(super) fn with_factors(&self, factors: Factors) -> Model {
        Model { factors, ..self.clone() }
    }

    fn network(&self, films: &Films, latent_w: f64) -> Result<Network, NetworkFault> {
        self.factors.of(&self.described_network(films, latent_w)?)
    }

    /// The network of the description alone, before what a log said.
    pub(super) fn described_network(&self, films: &Films, latent_w: f64) -> Result<Network, NetworkFault> {
        let mut enclosure = self.enclosure.clone();
        if let Some(bowl) = &mut enclosure.bowl {
            bowl.latent = Watts(latent_w);
        }
        let heaters: Vec<box_of::Heater> = self.units.iter().map(|unit| unit.physical).collect();
        full_network(&enclosure, films, &heaters)
    }

    /// The network of the description alone, with films and evaporation as they are in a state.
    pub(super) fn described_at(&self, state: &State) -> Result<Network, NetworkFault> {
        self.described_network(&self.films(Some(&state.spots()?))?, self.latent_w(state)?)
    }

    pub(super) fn films(&self, spots: Option<&Spots>) -> Result<Films, NetworkFault> {
        let films = match spots {
            None => Films::usual(&self.enclosure),
            Some(spots) => Films::at(&self.enclosure, spots),
        };
        let mut films = films.ok_or(NetworkFault::Range("films"))?;
        let factor = self.values.of(Unknown::InnerFilms);
        for one in [
            &mut films.air_warm_w_m2k,
            &mut films.air_cool_w_m2k,
            &mut films.floor_warm_w_m2k,
            &mut films.floor_cool_w_m2k,
        ] {
            *one *= factor;
        }
        films.mixing_w_k *= self.values.of(Unknown::Mixing);
        Ok(films)
    }

    /// Where it settles in a room with these drives, one for each heater.
    pub fn settled(&self, drives: &[Drive], room_c: f64) -> Result<State, NetworkFault> {
        let room = degrees(room_c)?;
        let mut films = self.films(None)?;
        let mut latent_w = 0.0;
        let mut state = self.balanced(&films, latent_w, drives, room)?;
        for _ in 0..ROUNDS {
            films = self.films(Some(&state.spots()?))?;
            latent_w = self.latent_w(&state)?;
            state = self.balanced(&films, latent_w, drives, room)?;
        }
        Ok(state)
    }

    /// The powers that hold what is to be held, each heater between nothing and all it has, and the temperatures then.
    pub(super) fn balanced(
        &self,
        films: &Films,
        latent_w: f64,
        drives: &[Drive],
        room: Celsius,
    ) -> Result<State, NetworkFault> {
        let network = self.network(films, latent_w)?;
        let count = self.units.len();
        let none = vec![Watts(0.0); count];
        let mut state = State {
            temperatures: network.steady(&none, room)?,
            network,
            powers: none,
            room,
            films: *films,
            units: self.units.clone(),
        };
        let cold = state.clone();
        let mut rises = Vec::with_capacity(count);
        for heater in 0..count {
            let mut watt = vec![Watts(0.0); count];
            if let Some(one) = watt.get_mut(heater) {
                *one = Watts(1.0);
            }
            let temperatures = cold.network.steady(&watt, room)?;
            rises.push(State { temperatures, powers: watt, ..cold.clone() });
        }
        let at = |place: Place, powers: &[f64]| {
            let base = cold.at(place);
            let more: f64 = rises.iter().zip(powers).map(|(rise, power)| power * (rise.at(place) - base)).sum();
            Ok(base + more)
        };
        let powers = powers_that_hold(&self.units, drives, at)?;
        state.powers = powers.into_iter().map(Watts).collect();
        state.temperatures = state.network.steady(&state.powers, room)?;
        Ok(state)
    }

    /// Power of a heater, the others as they are driven, that brings a place to a temperature: not limited by what the
    /// heater has. Negative where the place is warmer without it.
    pub fn power_for(
        &self,
        heater: usize,
        place: Place,
        target_c: f64,
        drives: &[Drive],
        room_c: f64,
    ) -> Result<f64, NetworkFault> {
        let mut drives = drives.to_vec();
        drives.resize(self.units.len(), Drive::Gives(0.0));
        let mut off_by = |watts: f64| {
            if let Some(one) = drives.get_mut(heater) {
                *one = Drive::Gives(watts);
            }
            self.settled(&drives, room_c).map(|state| state.at(place) - target_c)
        };
        // The rise is nearly, not quite, a straight line: the films change with it. So by secants.
        let (mut before, mut power) = (0.0, FIRST_TRIED_W);
        let (mut was_off, mut is_off) = (off_by(before)?, off_by(power)?);
        for _ in 0..MOST_SECANTS {
            let slope = (is_off - was_off) / (power - before);
            if slope.is_nan() || slope <= 1e-9 {
                return Err(NetworkFault::Range("power"));
            }
            (before, power) = (power, power - is_off / slope);
            (was_off, is_off) = (is_off, off_by(power)?);
            if is_off.abs() < NEAR_ENOUGH_K {
                return Ok(power);
            }
        }
        Err(NetworkFault::Range("power"))
    }

    /// Heat that evaporation takes from the bowl, W.
    pub(super) fn latent_w(&self, state: &State) -> Result<f64, NetworkFault> {
        let Some((balance, bowl)) = self.balance(state, &[]) else { return Ok(0.0) };
        let kg_s = bowl.given_kg_s(balance.steady_kg_m3());
        Ok(kg_s.max(0.0) * science::physics::constants::heat_of_vaporisation_j_kg(bowl.surface()))
    }

    /// The balance of water with the bowl and further wet surfaces; with the bowl beside it.
    pub fn balance(&self, state: &State, more: &[Source]) -> Option<(Balance, Wet)> {
        let bowl = self.enclosure.bowl.as_ref()?;
        let surface = state.temperatures.of(&state.network, Node::Bowl).ok()?;
        let bowl = Source { area_m2: bowl.area_m2(), mass_transfer_m_s: self.transfer_m_s(), surface };
        let mut sources = vec![bowl];
        sources.extend_from_slice(more);
        let exchange = AirExchange {
            air_changes_per_h: self.air_changes_per_h(state),
            room: state.room,
            room_humidity: RelativeHumidity::from_percent(self.values.of(Unknown::RoomHumidity))?,
        };
        let air = Celsius::new(0.5 * (state.at(Place::At(Spot::WarmAir)) + state.at(Place::At(Spot::CoolAir))))?;
        let buffer = self.values.of(Unknown::Buffer);
        let balance = Balance::new(self.enclosure.volume_m3(), buffer, air, exchange, &sources)?;
        Some((balance, Wet(bowl)))
    }

    /// Mass transfer of still water to its air, m/s.
    pub fn transfer_m_s(&self) -> f64 {
        let passes = if self.is_mesh { BOWL_UNDER_MESH_M_S / BOWL_M_S } else { 1.0 };
        self.values.of(Unknown::Evaporation) * passes / 1000.0
    }

    /// Air changes an hour in a state: through a mesh they go with the warmth inside.
    pub fn air_changes_per_h(&self, state: &State) -> f64 {
        state.films.ventilation_w_k / heat_of_air_changes_w_k(self.enclosure.volume_m3(), 1.0)
    }

    /// How the spots go from a state on, with constant powers and a room that changes (its °C by seconds since the start).
    /// A value in °C for each of [`SPOTS`], at the start and after each step. `network` is the state whose conductances
    /// hold: that at the start or that at the end.
    pub fn course(
        &self,
        from: &State,
        network: &State,
        powers: &[Watts],
        room_c: impl Fn(f64) -> f64,
        step: Seconds,
        steps: usize,
    ) -> Result<Vec<[f64; 4]>, NetworkFault> {
        let node = |node| network.network.place(node);
        let places = [node(Node::FloorWarm)?, node(Node::AirWarm)?, node(Node::AirCool)?, node(Node::FloorCool)?];
        let (mut excess, goal) = (from.excess_k(), network.excess_of(powers));
        let keeps = (-step.seconds() / self.local_lag_s(network)).exp();
        let mut course = Vec::with_capacity(steps + 1);
        network.network.follow(
            &from.temperatures,
            powers,
            |time| room_c(time.seconds()),
            step,
            steps,
            |state| {
                let mut now = places.map(|place| state.get(place).copied().unwrap_or(f64::NAN));
                now[0] += excess;
                course.push(now);
                excess = goal + (excess - goal) * keeps;
            },
        )?;
        Ok(course)
    }

    /// How slowly the warmed part of the floor follows: its heat against its film.
    fn local_lag_s(&self, state: &State) -> f64 {
        let heat =
            self.enclosure.walls.heat_j_m2k() / 2.0 + self.enclosure.substrate.map_or(0.0, |one| one.heat_j_m2k());
        (heat * state.local_m2k_w()).max(30.0)
    }
}

/// The powers that bring every regulated place to its set point, each heater between nothing and all it has. `at` says
/// to what a place comes with powers in W, one for each heater; it goes with each of them in a straight line.
fn powers_that_hold(
    units: &[Unit],
    drives: &[Drive],
    at: impl Fn(Place, &[f64]) -> Result<f64, NetworkFault>,
) -> Result<Vec<f64>, NetworkFault> {
    let mut powers = vec![0.0; units.len()];
    for _ in 0..TURNS {
        let before = powers.clone();
        for (heater, unit) in units.iter().enumerate() {
            let power = match drives.get(heater).copied().unwrap_or(Drive::Gives(0.0)) {
                Drive::Gives(watts) => watts,
                Drive::Holds(place, set_c) => {
                    let mut with = |watts: f64| {
                        if let Some(one) = powers.get_mut(heater) {
                            *one = watts;
                        }
                        at(place, &powers)
                    };
                    let off = with(0.0)?;
                    let own = with(1.0)? - off;
                    // A probe in the room feels nothing of the heater: it is on as long as the room is colder.
                    let wanted = if 1e-9 < own { (set_c - off) / own } else { (set_c - off) * f64::INFINITY };
                    if wanted.is_nan() { 0.0 } else { wanted.clamp(0.0, unit.most_w) }
                }
            };
            if let Some(one) = powers.get_mut(heater) {
                *one = power;
            }
        }
        if powers.iter().zip(&before).all(|(now, before)| (now - before).abs() < 1e-6) {
            break;
        }
    }
    if powers.iter().all(|power| power.is_finite()) { Ok(powers) } else { Err(NetworkFault::Range("power")) }
}

/// A wet surface, to ask it what it gives.
#[derive(Clone, Copy, Debug)]
pub struct Wet(Source);

impl Wet {
    /// Temperature of its water.
    pub fn surface(&self) -> Celsius {
        self.0.surface
    }

    /// What it gives to air of a vapour density, kg/s.
    pub fn given_kg_s(&self, vapour_kg_m3: f64) -> f64 {
        let saturated = science::physics::psychrometrics::saturation_vapour_density_kg_m3(self.0.surface);
        self.0.area_m2 * self.0.mass_transfer_m_s * (saturated.unwrap_or(f64::NAN) - vapour_kg_m3)
    }
}

fn unit(heater: &Heater, index: usize, enclosure: &Enclosure, values: &Values) -> Unit {
    let usual = match (heater.kind, heater.inside) {
        (HeaterKind::Mat, Some(true)) | (HeaterKind::Cable, _) => box_of::HeaterKind::InFloor,
        (HeaterKind::Mat, _) => box_of::HeaterKind::MatBelow,
        (HeaterKind::Ceramic, _) => box_of::HeaterKind::Ceramic,
        (HeaterKind::Panel, _) => box_of::HeaterKind::Panel,
        (HeaterKind::Lamp, _) => box_of::HeaterKind::Lamp,
        (HeaterKind::Rock, _) => box_of::HeaterKind::Other(Split { floor: 0.95, shell: 0.0, air: 0.05 }),
        (HeaterKind::Room | HeaterKind::Other, _) => {
            box_of::HeaterKind::Other(Split { floor: 0.5, shell: 0.15, air: 0.3 })
        }
    };
    let factor = values.of(Unknown::Power);
    let factor = if factor.is_nan() { 1.0 } else { factor };
    let rated = Watts(heater.watts.unwrap_or(USUAL_WATTS) * factor);
    let plain = box_of::Heater { kind: usual, rated };
    let split = shifted(plain.split(enclosure), if index == 0 { values.of(Unknown::HeaterShare) } else { 0.0 });
    let kind = match plain.body() {
        Some((lag, rise_k)) => box_of::HeaterKind::WithBody(split, lag, rise_k),
        None => box_of::HeaterKind::Other(split),
    };
    let half = enclosure.half_floor_m2();
    let warmed = if index == 0 { values.of(Unknown::Spot) } else { 1.0 };
    let up = enclosure.walls.resistance_m2k_w() + enclosure.substrate.map_or(0.0, |one| one.resistance_m2k_w());
    Unit {
        physical: box_of::Heater { kind, rated },
        most_w: heater.watts.map_or(f64::INFINITY, |watts| watts * factor),
        spot_1_m2: split.floor / half * (1.0 / warmed - 1.0),
        mat_k_w: split.floor / (half * warmed) * up,
    }
}

/// More to the floor, and so less to everything else; or less, and so more.
fn shifted(split: Split, by: f64) -> Split {
    let floor = (split.floor + by).clamp(0.02, 0.98);
    let rest = (1.0 - floor) / (1.0 - split.floor).max(1e-9);
    Split { floor, shell: split.shell * rest, air: split.air * rest }
}

/// Where a model has settled.
#[derive(Clone, Debug)]
pub struct State {
    network: Network,
    temperatures: Temperatures,
    powers: Vec<Watts>,
    room: Celsius,
    films: Films,
    units: Vec<Unit>,
}

impl State {
    /// The temperature of a place, °C.
    pub fn at(&self, place: Place) -> f64 {
        let node = |node| self.temperatures.of(&self.network, node).map_or(f64::NAN, Celsius::degrees);
        match place {
            Place::At(Spot::WarmSurface | Spot::Hide) => node(Node::FloorWarm) + self.excess_k(),
            Place::At(Spot::WarmAir | Spot::ControlProbe) => node(Node::AirWarm),
            Place::At(Spot::CoolAir) => node(Node::AirCool),
            Place::At(Spot::CoolSurface | Spot::HumidHide) => node(Node::FloorCool),
            Place::At(Spot::Water) => node(Node::Bowl),
            Place::At(Spot::Room | Spot::Outdoors) | Place::Room => self.room.degrees(),
            Place::Mat => {
                let over: f64 =
                    self.units.iter().zip(&self.powers).map(|(unit, power)| unit.mat_k_w * power.watts()).sum();
                node(Node::FloorWarm) + self.excess_k() + over
            }
        }
    }

    /// The temperature of a spot, °C.
    pub fn spot(&self, spot: Spot) -> f64 {
        self.at(Place::At(spot))
    }

    /// The inner face of walls and lid, °C.
    pub fn shell_c(&self) -> f64 {
        self.temperatures.of(&self.network, Node::Shell).map_or(f64::NAN, Celsius::degrees)
    }

    /// The room, °C.
    pub fn room_c(&self) -> f64 {
        self.room.degrees()
    }

    /// What each heater gives, W.
    pub fn powers(&self) -> &[Watts] {
        &self.powers
    }

    /// What all heaters give together, W.
    pub fn power_w(&self) -> f64 {
        self.powers.iter().map(|power| power.watts()).sum()
    }

    /// The network that it is a state of.
    pub fn network(&self) -> &Network {
        &self.network
    }

    /// Its slowest time constant, s.
    pub fn slowest_s(&self) -> Option<f64> {
        self.network.time_constants()?.last().map(|one| one.seconds())
    }

    /// Air and radiation at the warm floor together, m²·K/W.
    fn local_m2k_w(&self) -> f64 {
        1.0 / (self.films.floor_warm_w_m2k + self.films.radiation_warm_w_m2k)
    }

    fn excess_of(&self, powers: &[Watts]) -> f64 {
        let density: f64 = self.units.iter().zip(powers).map(|(unit, power)| unit.spot_1_m2 * power.watts()).sum();
        density * self.local_m2k_w()
    }

    /// By how much the warmed part of the floor stands over the warm floor as a whole, K.
    fn excess_k(&self) -> f64 {
        self.excess_of(&self.powers)
    }

    pub(super) fn spots(&self) -> Result<Spots, NetworkFault> {
        let of = |node| self.temperatures.of(&self.network, node);
        Ok(Spots {
            air_warm: of(Node::AirWarm)?,
            air_cool: of(Node::AirCool)?,
            floor_warm: of(Node::FloorWarm)?,
            floor_cool: of(Node::FloorCool)?,
            shell: of(Node::Shell)?,
            room: self.room,
        })
    }
}

/// What drives the heaters of a description by day or by night: their thermostats, or all they have without one.
/// Where no set point is told, the target at the place of the probe.
pub fn drives(description: &Description, model: &Model, night: bool, target_c: Option<f64>) -> Vec<Drive> {
    let offset = model.values().of(Unknown::Thermostat);
    let offset = if offset.is_nan() { 0.0 } else { offset };
    let drive = |(index, heater): (usize, &Heater)| {
        let set = if night { heater.night_set_c.or(heater.set_c) } else { heater.set_c };
        match (heater.thermostat, set.or(target_c)) {
            (Some(Thermostat::None), _) | (_, None) => {
                let most = model.most_w(index);
                Drive::Gives(if most.is_finite() { most } else { 0.0 })
            }
            (_, Some(set)) => Drive::Holds(place_of(heater), set + offset),
        }
    };
    description.heaters.iter().enumerate().map(drive).collect()
}

/// Is the lid open mesh, wholly or in part?
pub fn has_mesh(description: &Description) -> bool {
    matches!(description.enclosure.lid, Some(Lid::Mesh | Lid::PartMesh))
}

/// Is the material of the walls known?
pub fn knows_walls(description: &Description) -> bool {
    wall_of(description).is_some()
}
