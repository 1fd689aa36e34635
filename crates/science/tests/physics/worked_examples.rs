use crate::table::{c, m, rows};
use science::physics::convection::*;
use science::physics::moisture::evaporation::shah;
use science::physics::prey::estimate::{plank, through_package_w_m2k};
use science::physics::prey::growth::GrowthCurve;
use science::physics::psychrometrics::MoistAir;
use science::physics::radiation::*;
use science::physics::transient::*;
use std::collections::HashMap;
use std::f64::consts::PI;
use units::{Celsius, Pascals, RelativeHumidity, Seconds};

type Answers = HashMap<(&'static str, &'static str), f64>;

#[test]
fn published_examples_come_out_within_their_own_tolerance() {
    let mut answers = Answers::new();
    for part in [psychrometrics, films, radiation, lumps, series, freezing, water_and_growth] {
        part(&mut answers);
    }
    let table = rows("worked_examples");
    for row in &table {
        let (id, quantity) = (row.text("id"), row.text("quantity"));
        let got = answers.iter().find(|((i, q), _)| *i == id && *q == quantity).map(|(_, value)| *value);
        let got = got.unwrap_or_else(|| panic!("{id} {quantity} is not worked"));
        let (wanted, tolerance) = (row.number("expected"), row.number("tolerance"));
        let off = if row.text("kind") == "abs" { (got - wanted).abs() } else { (got / wanted - 1.0).abs() };
        assert!(off <= tolerance, "{id} {quantity}: {got}, {} has {wanted}", row.text("source"));
    }
    assert_eq!(answers.len(), table.len(), "every example that is worked stands in the table");
}

fn air(t: f64, fraction: f64, pascals: f64) -> MoistAir {
    MoistAir::from_relative_humidity(c(t), RelativeHumidity::new(fraction).unwrap(), Pascals(pascals)).unwrap()
}

fn psychrometrics(answers: &mut Answers) {
    let mut put = |id, quantity, value| answers.insert((id, quantity), value);
    put("psy-1", "t_dew_C", air(25.0, 0.8, 101_325.0).dew_point().unwrap().degrees());
    put("psy-2", "h_J_kg", air(30.0, 0.25, 101_325.0).enthalpy_j_kg());
    let room = air(25.0, 0.75, 100_000.0);
    put("psy-3", "p_vapour_kPa", room.vapour_pressure().pascals() / 1000.0);
    put("psy-3", "W", room.humidity_ratio());
    // The textbook gives both vapour pressures; the temperature is the one that saturates at the second.
    let warm = science::physics::psychrometrics::dew_point(Pascals(3500.0)).unwrap();
    let air =
        MoistAir::from_relative_humidity(warm, RelativeHumidity::new(2.76 / 3.5).unwrap(), Pascals(101_320.0)).unwrap();
    let saturated = MoistAir::from_relative_humidity(warm, RelativeHumidity::SATURATED, Pascals(101_320.0))
        .unwrap()
        .humidity_ratio();
    put("psy-4", "H", air.humidity_ratio());
    put("psy-4", "H_sat", saturated);
    put("psy-4", "percentage_humidity", 100.0 * air.humidity_ratio() / saturated);
    put("psy-4", "relative_humidity", air.relative_humidity().unwrap().percent());
    let chart = MoistAir::from_wet_bulb(c(40.0), c(20.0), Pascals::ATMOSPHERE).unwrap();
    put("psy-5", "W_g_kg", chart.humidity_ratio() * 1000.0);
    put("psy-5", "h_kJ_kg", chart.enthalpy_j_kg() / 1000.0);
    put("psy-5", "t_dew_C", chart.dew_point().unwrap().degrees());
    put("psy-5", "rh_pct", chart.relative_humidity().unwrap().percent());
    put("psy-5", "v_m3_kg", chart.volume_m3_kg());
}

/// Rayleigh number with the textbook's own g, β, ν and α.
fn ra(g: f64, beta: f64, difference: f64, length: f64, nu: f64, alpha: f64) -> f64 {
    g * beta * difference * length.powi(3) / (nu * alpha)
}

fn films(answers: &mut Answers) {
    let mut put = |id, quantity, value| answers.insert((id, quantity), value);
    let screen = ra(9.8, 2.5e-3, 209.0, 0.71, 26.4e-6, 38.3e-6);
    let nusselt = vertical_plate(screen, 0.69).value;
    put("conv-1", "Ra", screen);
    put("conv-1", "Nu", nusselt);
    put("conv-1", "q_W", nusselt * 0.0338 / 0.71 * 0.71 * 1.02 * 209.0);
    let duct = |length: f64| ra(9.81, 3.3e-3, 30.0, length, 16.2e-6, 22.9e-6);
    let (k, half) = (0.0265, 0.375);
    let side = vertical_plate_laminar(duct(0.3), 0.71).value * k / 0.3;
    let top = horizontal_plate(duct(half), Facing::HotUp).value * k / half;
    let bottom = horizontal_plate(duct(half), Facing::HotDown).value * k / half;
    put("conv-2", "q_per_m_W", (2.0 * side * 0.3 + (top + bottom) * 0.75) * 30.0);
    let pipe = horizontal_cylinder(ra(9.81, 2.725e-3, 142.0, 0.1, 22.8e-6, 32.8e-6), 0.697).value * 0.0313 / 0.1;
    let glow = to_surroundings_w_m2(Emissivity::new(0.85).unwrap(), c(165.0), c(23.0));
    put("conv-3", "q_per_m_W", PI * 0.1 * (pipe * 142.0 + glow));
}

fn radiation(answers: &mut Answers) {
    let mut put = |id, quantity, value| answers.insert((id, quantity), value);
    let kelvin = |k: f64| Celsius::from_kelvin(k).unwrap();
    let base = to_surroundings_w_m2(Emissivity::new(0.7).unwrap(), kelvin(1000.0), kelvin(400.0));
    put("rad-1", "Q_kW", PI * 25.0 / 4.0 * base / 1000.0);
    put("rad-2", "F12", view_facing_rectangles(m(1.5), m(3.0), m(3.0)));
    put("rad-3", "opposite", view_facing_rectangles(m(1.0), m(1.0), m(1.0)));
    put("rad-3", "adjacent", view_floor_to_wall(m(1.0), m(1.0), m(1.0)));
}

fn lumps(answers: &mut Answers) {
    let mut put = |id, quantity, value| answers.insert((id, quantity), value);
    // A sphere whose time constant is 1 s: D/6 = V/A.
    let volumetric = 8500.0 * 400.0;
    let diameter = 6.0 * 400.0 / volumetric;
    let tau = lump_time_constant(volumetric, diameter / 6.0, 400.0).unwrap();
    put("cond-1", "D_m", diameter);
    put("cond-1", "t_s", tau.seconds() * (175f64 / 1.0).ln());
    assert!((theta_of_lump(Seconds(5.16479), tau) - 1.0 / 175.0).abs() < 1e-6);
    // The same in walls of 400 °C: heat balance of the junction, stepped until within 1 K of its end.
    let grey = Emissivity::new(0.9).unwrap();
    let gain = |t: f64| 400.0 * (200.0 - t) - to_surroundings_w_m2(grey, c(t), c(400.0));
    let (mut low, mut high) = (100.0, 400.0);
    while 1e-9 < high - low {
        let middle = 0.5 * (low + high);
        if 0.0 < gain(middle) { low = middle } else { high = middle }
    }
    let step = 1e-4;
    let (mut t, mut elapsed) = (25.0, 0.0);
    while t < low - 1.0 {
        t += step * gain(t) / (volumetric * diameter / 6.0);
        elapsed += step;
    }
    put("cond-2", "T_steady_C", low);
    put("cond-2", "t_within_1K_s", elapsed);
    let air = lump_time_constant(3000.0 * 1000.0, 0.005 / 3.0, 10.0).unwrap();
    put("cond-4", "t_air_s", air.seconds() * (380f64 / 315.0).ln());
}

fn series(answers: &mut Answers) {
    let mut put = |id, quantity, value| answers.insert((id, quantity), value);
    let (biot, fourier) = (500.0 * 0.04 / 63.9, 18.8e-6 * 480.0 / 0.04f64.powi(2));
    let wall = Series::new(Shape::Slab, biot).unwrap();
    put("cond-3", "Bi", biot);
    put("cond-3", "Fo", fourier);
    put("cond-3", "T_insulated_face_C", 60.0 - 80.0 * wall.theta(fourier, 0.0).unwrap());
    put("cond-3", "q_wet_face_W_m2", -500.0 * 80.0 * wall.theta(fourier, 1.0).unwrap());
    let gained = (1.0 - wall.mean(fourier).unwrap()) * 7832.0 * 434.0 * PI * 0.04 * 80.0;
    put("cond-3", "Q_J_per_m", -gained);
    let quench = Series::new(Shape::Sphere, 6000.0 * 0.005 / 20.0).unwrap();
    let fourier = quench.fourier_when(30.0 / 315.0, 0.0).unwrap();
    put("cond-4", "t_water_s", fourier * 0.005f64.powi(2) / 6.66e-6);
    let days = Seconds(60.0 * 86_400.0);
    // 0 °C is where 20/35 of the change has arrived.
    put("cond-5", "depth_m", depth_of_fraction(20.0 / 35.0, days, 0.52 / (2050.0 * 1840.0)).unwrap().metres());
    let steak = Series::new(Shape::Slab, 0.2).unwrap();
    let fourier = steak.fourier_when(13.0 / 36.0, 1.0).unwrap();
    put("cond-6", "Bi", 9.0 * 0.01 / 0.45);
    put("cond-6", "lambda1", steak.terms()[0].zeta);
    put("cond-6", "A1", steak.terms()[0].c);
    put("cond-6", "Fo", fourier);
    put("cond-6", "minutes", fourier * 1e-4 / 0.91e-7 / 60.0);
    let r: f64 = 0.0275;
    let egg = Series::new(Shape::Sphere, 1400.0 * r / 0.6).unwrap();
    put("cond-7", "minutes", egg.fourier_when(27.0 / 89.0, 0.0).unwrap() * r * r / 0.14e-6 / 60.0);
    let (r, biot) = (0.034_05f64, 4540.0 * 0.034_05 / 0.83);
    let theta = finite_cylinder_centre(0.0508 / r, biot, 2.007e-7 * 2700.0 / (r * r)).unwrap();
    put("cond-8", "T_centre_C", 115.6 - 86.2 * theta);
}

fn freezing(answers: &mut Answers) {
    let mut put = |id, quantity, value| answers.insert((id, quantity), value);
    let sphere = |film: f64| plank(1000.0 * 250e3, 38.75, 3.0, 0.07, film, 1.2).unwrap();
    put("plank-1", "seconds", sphere(50.0).seconds());
    put("plank-1", "hours", sphere(50.0).hours());
    let packed = sphere(through_package_w_m2k(50.0, 0.003, 0.2));
    put("plank-2", "seconds", packed.seconds());
    put("plank-2", "hours", packed.hours());
    let slabs = plank(1057.0 * 251.2e3, 26.1, 1.0, 0.0635, 17.0, 1.038).unwrap();
    put("plank-3", "seconds", slabs.seconds());
    put("plank-3", "hours", slabs.hours());
    put("plank-4", "hours", plank(970.0 * 0.73 * 333.2e3, 28.25, 1.0, 0.05, 5.0, 1.1).unwrap().hours());
}

fn water_and_growth(answers: &mut Answers) {
    let mut put = |id, quantity, value| answers.insert((id, quantity), value);
    for (id, room) in [("evap-28", 28.0), ("evap-29", 29.0)] {
        let law = shah(c(28.0), c(room), RelativeHumidity::new(0.5).unwrap()).unwrap();
        put(id, "E_kg_m2h", law.rate_kg_m2h());
        put(id, "d_rho", law.density_difference_kg_m3);
    }
    put("micro-1", "mu", GrowthCurve::GroundBeef.printed(c(25.0)));
}
