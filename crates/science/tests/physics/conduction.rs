use crate::table::{Row, Worst, rows};
use science::physics::transient::*;
use units::Seconds;

fn shape(row: &Row) -> Shape {
    match row.text("shape") {
        "slab" => Shape::Slab,
        "cylinder" => Shape::Cylinder,
        _ => Shape::Sphere,
    }
}

#[test]
fn roots_and_coefficients_agree() {
    let mut worst = Worst::default();
    for row in rows("series_terms") {
        let series = Series::new(shape(&row), row.number("Bi")).unwrap();
        let [first, second] = series.terms().first_chunk().unwrap();
        for (got, column) in [(first.zeta, "zeta1"), (first.c, "C1"), (second.zeta, "zeta2"), (second.c, "C2")] {
            worst.relative(got, row.number(column), format!("{column} {} {}", row.text("shape"), row.text("Bi")));
        }
    }
    worst.within(1e-7);
}

#[test]
fn the_series_agree_at_centre_half_way_surface_and_in_the_mean() {
    let mut worst = Worst::default();
    for row in rows("series") {
        let series = Series::new(shape(&row), row.number("Bi")).unwrap();
        let fourier = row.number("Fo");
        let at = format!("{} Bi {} Fo {fourier}", row.text("shape"), row.text("Bi"));
        for (x, column) in [(0.0, "theta_centre"), (0.5, "theta_half_radius"), (1.0, "theta_surface")] {
            worst.absolute(series.theta(fourier, x).unwrap(), row.number(column), &at);
        }
        worst.absolute(series.mean(fourier).unwrap(), row.number("theta_mean"), &at);
        if 0.2 <= fourier {
            worst.absolute(series.one_term_centre(fourier).unwrap(), row.number("one_term_centre"), &at);
        }
    }
    worst.within(1e-7);
}

#[test]
fn one_term_is_within_two_percent_from_fourier_0_2_on() {
    let mut worst = Worst::default();
    for row in rows("series") {
        if 0.2 <= row.number("Fo") {
            worst.relative(row.number("one_term_centre"), row.number("theta_centre"), row.text("Bi"));
        }
    }
    worst.within(0.02);
}

#[test]
fn a_finite_cylinder_is_the_product_of_two_bodies() {
    let mut worst = Worst::default();
    for row in rows("finite_cylinder") {
        let got = finite_cylinder_centre(row.number("L_over_D"), row.number("Bi_R"), row.number("Fo_R")).unwrap();
        worst.absolute(got, row.number("theta_centre"), row.text("L_over_D"));
    }
    worst.within(1e-7);
}

#[test]
fn a_half_space_agrees_with_a_fixed_surface_and_with_a_film() {
    let mut worst = Worst::default();
    for row in rows("half_space") {
        let (x, t, alpha) = (row.number("x_m"), Seconds(row.number("t_s")), row.number("alpha"));
        let fixed = half_space_with_fixed_surface(x, t, alpha).unwrap();
        let film = half_space_with_film(x, t, alpha, row.number("k"), row.number("h")).unwrap();
        worst.absolute(fixed, row.number("frac_fixed_surface"), x);
        worst.absolute(film, row.number("frac_convective"), x);
    }
    worst.within(1e-7);
}

#[test]
fn thawed_prey_warms_and_cools_in_the_time_of_the_series() {
    const K: f64 = 0.48;
    const ALPHA: f64 = 1.30e-7;
    let mut worst = Worst::default();
    for row in rows("prey_warm_cool") {
        let r = row.number("D_m") / 2.0;
        let series = Series::new(Shape::Cylinder, row.number("h_W_m2K") * r / K).unwrap();
        let (start, medium) = if row.text("process") == "warm_from_4_in_water_40" { (4.0, 40.0) } else { (38.0, 21.0) };
        let theta = (row.number("threshold_C") - medium) / (start - medium);
        let fourier = match row.text("where") {
            "centre" => series.fourier_when(theta, 0.0),
            "surface" => series.fourier_when(theta, 1.0),
            _ => series.fourier_when_mean(theta),
        };
        worst.relative(fourier.unwrap() * r * r / ALPHA / 60.0, row.number("minutes"), row.text("item"));
    }
    worst.within(1e-7);
}

#[test]
fn a_thin_body_is_one_lump() {
    // With Bi 0.01 the mean of the exact series and one lump agree within Bi/3.
    let series = Series::new(Shape::Slab, 0.01).unwrap();
    let tau = lump_time_constant(4e6, 0.005, 0.4).unwrap();
    for hours in [1.0, 5.0, 20.0] {
        let t = Seconds::from_hours(hours);
        // k = hL/Bi = 0.2, α = k/(ρc)
        let fourier = 0.2 / 4e6 * t.seconds() / 0.005f64.powi(2);
        let (exact, lump) = (series.mean(fourier).unwrap(), theta_of_lump(t, tau));
        assert!((exact / lump - 1.0).abs() < 0.01 / 3.0 * (t.seconds() / tau.seconds() + 1.0), "{exact} {lump}");
    }
    assert!(is_one_lump(0.09) && !is_one_lump(0.1));
    assert!(lump_time_constant(0.0, 1.0, 1.0).is_none());
}
