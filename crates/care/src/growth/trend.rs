//! Growth from weighings alone: a curve that slows toward the adult mass, about which each animal wanders.
//!
//! The state is the logarithm y of the mass and the share v by which growth now lies above or below the curve:
//!
//! dy/dt = g + (g + c) v,  g = k max(ln A − y, 0),  v an Ornstein-Uhlenbeck process of mean 0
//!
//! g is the Gompertz curve (in a snake near its adult mass it is let go to nothing softly, and never below), c what a
//! grown one gains and loses. What is seen is y with noise; a share of weighings are slips, and before a few the body
//! changed at once. A, k, the noise and how much v wanders are not known: each combination of a few values of them is
//! followed by its own extended Kalman filter, and each counts by how well it foretold the weighings it saw
//! (multiple-model estimation: Magill 1965, IEEE Transactions on Automatic Control 10, 434; from memory). So a growth
//! seen for a month is believed less than one seen for a year, and what is not known widens the band.

use science::statistics::mixture::{self, Part};

use super::prior::{Prior, YEAR_D};

/// One combination of what is not known, with what it believes.
#[derive(Clone, Copy, Debug)]
struct Node {
    /// k, per year.
    rate: f64,
    /// ln A.
    adult: f64,
    /// Standard deviation of v.
    wanders: f64,
    /// Standard deviation of one weighing.
    noise: f64,
    /// Logarithm of its weight.
    log_weight: f64,
    is: Belief,
}

/// Means of y and v, their variances and covariance.
#[derive(Clone, Copy, Debug, Default)]
struct Belief {
    y: f64,
    v: f64,
    yy: f64,
    yv: f64,
    vv: f64,
}

/// What the weighings say so far.
#[derive(Clone, Debug)]
pub struct Trend {
    nodes: Vec<Node>,
    memory_y: f64,
    of_the_grown: f64,
    noise_with_a_meal: f64,
    slip: (f64, f64),
    jump: (f64, f64),
}

/// How softly growth ends near the adult mass, as the logarithm of a ratio.
const SOFT: f64 = 0.25;
/// Longest step at once, in years.
const STEP_Y: f64 = 20.0 / YEAR_D;
/// How many values of the rate and of the adult mass are tried, and how many standard deviations they reach.
const RATES: (usize, f64) = (7, 1.8);
const ADULTS: (usize, f64) = (9, 2.0);
/// What counts less than this beside the best is dropped, as a logarithm; further ahead less still is told by it.
const DROPPED: f64 = -8.0;
const DROPPED_AHEAD: f64 = -6.0;

/// Places from `-reach` to `reach`, each with the weight that a standard normal distribution has there.
fn places((count, reach): (usize, f64)) -> impl Iterator<Item = (f64, f64)> + Clone {
    let step = 2.0 * reach / (count.max(2) - 1) as f64;
    (0..count).map(move |at| {
        let z = -reach + step * at as f64;
        (z, -0.5 * z * z)
    })
}

/// Soft max(x, 0) and its derivative.
fn growing(x: f64) -> (f64, f64) {
    let u = x / SOFT;
    if 30.0 < u {
        (x, 1.0)
    } else if u < -30.0 {
        (0.0, 0.0)
    } else {
        let e = u.exp();
        (SOFT * e.ln_1p(), e / (1.0 + e))
    }
}

impl Trend {
    /// From the first weighing, as the logarithm of a mass in g.
    pub fn starting_at(y: f64, prior: &Prior) -> Trend {
        let mut nodes = Vec::new();
        for (z_adult, adult_weight) in places(ADULTS) {
            let adult = prior.adult.mean + z_adult * prior.adult.deviation;
            for (z_rate, rate_weight) in places(RATES) {
                let rate = prior.rate_at(adult, z_rate);
                for wanders in &prior.wanders {
                    for noise in &prior.noises {
                        let log_weight = adult_weight + rate_weight + (wanders.weight * noise.weight).ln();
                        nodes.push(Node {
                            rate,
                            adult,
                            wanders: wanders.value,
                            noise: noise.value,
                            log_weight,
                            is: Belief {
                                y,
                                yy: 2.0 * noise.value.powi(2),
                                vv: wanders.value.powi(2),
                                ..Belief::default()
                            },
                        });
                    }
                }
            }
        }
        Trend {
            nodes,
            memory_y: prior.memory_y,
            of_the_grown: prior.of_the_grown,
            noise_with_a_meal: prior.noise_with_a_meal,
            slip: (prior.slip.weight, prior.slip.value),
            jump: (prior.jump.weight, prior.jump.value),
        }
    }

    /// Lets time pass.
    pub fn wait(&mut self, days: f64) {
        let years = days.max(0.0) / YEAR_D;
        let steps = (years / STEP_Y).ceil().max(1.0);
        let h = years / steps;
        let keeps = (-h / self.memory_y).exp();
        for node in &mut self.nodes {
            for _ in 0..(steps as usize) {
                node.step(h, keeps, self.of_the_grown);
            }
        }
    }

    /// Sees a weighing, as the logarithm of a mass in g. With a meal inside that was subtracted, it says less; after
    /// `eggs` the body is another.
    pub fn see(&mut self, y: f64, has_a_meal_inside: bool, eggs: bool) {
        let wider = if has_a_meal_inside { self.noise_with_a_meal } else { 1.0 };
        let jump = if eggs { (1.0 - self.slip.0, 2.0 * self.jump.1) } else { self.jump };
        for node in &mut self.nodes {
            node.see(y, wider, self.slip, jump);
        }
        self.drop_below(DROPPED);
    }

    /// The same with what counts little left out: for looking ahead, when nothing more will be seen.
    pub fn for_looking_ahead(&self) -> Trend {
        let mut ahead = self.clone();
        ahead.drop_below(DROPPED_AHEAD);
        ahead
    }

    fn drop_below(&mut self, least: f64) {
        let best = self.nodes.iter().map(|node| node.log_weight).fold(f64::NEG_INFINITY, f64::max);
        self.nodes.retain(|node| least <= node.log_weight - best);
        self.nodes.iter_mut().for_each(|node| node.log_weight -= best);
    }

    /// The logarithm of the mass, meals taken off, that the next weighing will show: the noise of one is in it.
    pub fn next_weighing(&self) -> Vec<Part> {
        let part = |node: &Node| Part {
            weight: node.log_weight.exp(),
            mean: node.is.y,
            deviation: (node.is.yy + node.noise.powi(2)).sqrt(),
        };
        self.nodes.iter().map(part).collect()
    }

    /// Mean and variance of the logarithm of the mass itself.
    pub fn mass(&self) -> (f64, f64) {
        let part = |node: &Node| Part {
            weight: node.log_weight.exp(),
            mean: node.is.y,
            deviation: node.is.yy.max(0.0).sqrt(),
        };
        mixture::moments(&self.nodes.iter().map(part).collect::<Vec<_>>())
    }

    /// Relative growth now, per year: of the curve, and with what the animal is above or below it.
    pub fn growth_per_year(&self) -> (f64, f64) {
        let (mut of_curve, mut own, mut all) = (0.0, 0.0, 0.0);
        for node in &self.nodes {
            let weight = node.log_weight.exp();
            let g = node.rate * growing(node.adult - node.is.y).0;
            of_curve += weight * g;
            own += weight * (g + (g + self.of_the_grown) * node.is.v);
            all += weight;
        }
        (of_curve / all, own / all)
    }

    /// Noise of one weighing that the weighings themselves show, as a share of the mass.
    pub fn noise(&self) -> f64 {
        let all: f64 = self.nodes.iter().map(|node| node.log_weight.exp()).sum();
        self.nodes.iter().map(|node| node.log_weight.exp() * node.noise).sum::<f64>() / all
    }
}

impl Node {
    /// One step of `h` years, in which v keeps the share `keeps`.
    fn step(&mut self, h: f64, keeps: f64, of_the_grown: f64) {
        /// Bounds of the slope, so that no odd corner of the state explodes; per year.
        const STEEPEST: (f64, f64) = (-3.0, 20.0);
        let (left, slope) = growing(self.adult - self.is.y);
        let g = self.rate * left;
        let reach = g + of_the_grown;
        let speed = g + reach * self.is.v;
        let fades = (self.rate * slope * (1.0 + self.is.v)).clamp(STEEPEST.0, STEEPEST.1);
        let f = (-fades * h).exp();
        let lasts = if fades.abs() * h < 1e-6 { h } else { (1.0 - f) / fades };
        let b = reach * lasts * f64::midpoint(1.0, keeps);
        let fresh = self.wanders.powi(2) * (1.0 - keeps * keeps);
        self.is.y += speed * lasts;
        self.is.v *= keeps;
        let (yy, yv, vv) = (self.is.yy, self.is.yv, self.is.vv);
        self.is.yy = f * f * yy + 2.0 * f * b * yv + b * b * vv + fresh * (reach * h).powi(2) / 3.0;
        self.is.yv = (f * yv + b * vv) * keeps + fresh * reach * h / 2.0;
        self.is.vv = vv * keeps * keeps + fresh;
    }

    /// Three explanations of a weighing, each with its weight: an ordinary one, a slip, a body that changed at once.
    fn see(&mut self, y: f64, wider: f64, slip: (f64, f64), jump: (f64, f64)) {
        let noise = (self.noise * wider).powi(2);
        let ways = [
            ((1.0 - slip.0 - jump.0).max(1e-6), 0.0, noise),
            (slip.0, 0.0, noise * slip.1.powi(2)),
            (jump.0, jump.1.powi(2), noise),
        ];
        let seen = ways.map(|(share, jumped, noise)| {
            let (likely, is) = self.is.seeing(y, jumped, noise);
            (share * likely, is)
        });
        let all: f64 = seen.iter().map(|(weight, _)| weight).sum();
        // Farther off than any explanation reaches: it says nothing.
        if all.is_nan() || all < 1e-290 {
            self.log_weight -= 660.0;
            return;
        }
        self.log_weight += all.ln();
        let mut to = Belief::default();
        for (weight, is) in &seen {
            to.y += weight / all * is.y;
            to.v += weight / all * is.v;
        }
        for (weight, is) in &seen {
            let (share, dy, dv) = (weight / all, is.y - to.y, is.v - to.v);
            to.yy += share * (is.yy + dy * dy);
            to.yv += share * (is.yv + dy * dv);
            to.vv += share * (is.vv + dv * dv);
        }
        self.is = to;
    }
}

impl Belief {
    /// After a weighing with this noise, before which y may have jumped (both variances); and how likely it was.
    fn seeing(&self, y: f64, jumped: f64, noise: f64) -> (f64, Belief) {
        let (yy, off) = (self.yy + jumped, y - self.y);
        let spread = yy + noise;
        let (a, b) = (yy / spread, self.yv / spread);
        let is = Belief {
            y: self.y + a * off,
            v: self.v + b * off,
            yy: yy * (1.0 - a),
            yv: self.yv * (1.0 - a),
            vv: self.vv - b * self.yv,
        };
        ((-0.5 * off * off / spread).exp() / spread.sqrt(), is)
    }
}
