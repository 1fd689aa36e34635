use crate::table::{Row, Worst, c, rows};
use science::physics::convection::*;
use science::physics::enclosure::radiant_share;
use science::physics::fluids::{Fluid, air};
use science::physics::prey::film;
use science::physics::radiation::*;
use units::{CelsiusDelta, Metres};

fn given(row: &Row, film: f64) -> Fluid {
    Fluid {
        conductivity_w_mk: row.number("k_W_mK"),
        viscosity_m2_s: row.number("nu_m2_s"),
        prandtl: row.number("Pr"),
        density_kg_m3: 0.0,
        heat_j_kgk: 0.0,
        expansion_1_k: 1.0 / c(film).kelvin(),
    }
}

#[test]
fn air_has_the_properties_of_the_reference() {
    let mut worst = Worst::default();
    for row in rows("air_properties") {
        let got = air(row.celsius("t_C")).unwrap();
        for (got, column) in [
            (got.conductivity_w_mk, "k_W_mK"),
            (got.viscosity_m2_s, "nu_m2_s"),
            (got.prandtl, "Pr"),
            (got.density_kg_m3, "rho_kg_m3"),
            (got.heat_j_kgk, "cp_J_kgK"),
            (got.diffusivity_m2_s(), "alpha_m2_s"),
        ] {
            worst.relative(got, row.number(column), format!("{column} at {}", row.text("t_C")));
        }
    }
    worst.within(1e-6);
}

#[test]
fn a_vertical_plate_agrees_with_given_and_with_own_properties() {
    let (mut by_given, mut own) = (Worst::default(), Worst::default());
    for row in rows("vertical_plate") {
        let (height, difference) = (row.metres("height_m"), CelsiusDelta(row.number("dT_K")));
        let film = row.number("t_air_C") + difference.kelvin() / 2.0;
        let fluid = given(&row, film);
        let ra = rayleigh(&fluid, difference, height);
        let nusselt = vertical_plate(ra, fluid.prandtl);
        assert!(nusselt.is_in_range);
        by_given.relative(ra, row.number("Ra"), "Ra");
        by_given.relative(nusselt.value, row.number("Nu"), "Nu");
        by_given.relative(nusselt.coefficient_w_m2k(&fluid, height), row.number("h_W_m2K"), "h");
        let fluid = air(c(film)).unwrap();
        let nusselt = vertical_plate(rayleigh(&fluid, difference, height), fluid.prandtl);
        own.relative(nusselt.coefficient_w_m2k(&fluid, height), row.number("h_W_m2K"), film);
    }
    by_given.within(1e-6);
    own.within(1e-6);
}

#[test]
fn horizontal_plates_agree_with_their_sources() {
    let (mut first, mut down) = (Worst::default(), Worst::default());
    for row in rows("horizontal_plate") {
        let length = row.metres("Lc_m");
        let difference = CelsiusDelta(row.number("dT_K"));
        let fluid = air(c(row.number("t_air_C") + difference.kelvin() / 2.0)).unwrap();
        let facing = if row.text("side") == "hot_up" { Facing::HotUp } else { Facing::HotDown };
        let ra = rayleigh(&fluid, difference, length);
        first.relative(ra, row.number("Ra"), "Ra");
        let nusselt = horizontal_plate(ra, facing);
        first.relative(nusselt.value, row.number("Nu_McAdams"), "Nu");
        first.relative(nusselt.coefficient_w_m2k(&fluid, length), row.number("h_McAdams"), "h");
        let (thin, atlas) =
            (horizontal_plate_thin_layer(ra, fluid.prandtl, facing), horizontal_plate_atlas(ra, fluid.prandtl, facing));
        if facing == Facing::HotDown {
            down.relative(thin.value, row.number("Nu_Rohsenow"), "thin layer");
            down.relative(atlas.value, row.number("Nu_VDI"), "atlas");
        }
    }
    first.within(1e-6);
    down.within(1e-6);
}

#[test]
fn three_sources_for_a_plate_that_faces_up_stand_by_each_other() {
    // For air they differ by up to 40 % among themselves.
    for exponent in 4..=10 {
        let ra = 10f64.powi(exponent);
        let first = horizontal_plate(ra, Facing::HotUp).value;
        for other in [
            horizontal_plate_thin_layer(ra, 0.71, Facing::HotUp).value,
            horizontal_plate_atlas(ra, 0.71, Facing::HotUp).value,
        ] {
            assert!((0.6..1.4).contains(&(other / first)), "at Ra {ra:e}: {first} and {other}");
        }
        // Of the third source: 0.15 Ra^(1/3) in the limit of a large Prandtl number, approached from below.
        let [light, heavy] = [0.71, 1e6].map(|pr| horizontal_plate_atlas(ra, pr, Facing::HotUp).value);
        assert!(light < heavy, "at Ra {ra:e}: {light} and {heavy}");
        if 5 <= exponent {
            assert!((heavy / (0.15 * ra.cbrt()) - 1.0).abs() < 1e-3, "at Ra {ra:e}: {heavy}");
        }
    }
}

#[test]
fn the_range_of_a_correlation_is_told() {
    for (ra, up, down) in
        [(9e3, false, false), (1e4, true, false), (1e5, true, true), (1e10, true, true), (2e11, false, false)]
    {
        assert_eq!(horizontal_plate(ra, Facing::HotUp).is_in_range, up, "{ra:e}");
        assert_eq!(horizontal_plate(ra, Facing::HotDown).is_in_range, down, "{ra:e}");
    }
    assert!(!vertical_plate_laminar(1e9, 0.7).is_in_range && vertical_plate_laminar(9e8, 0.7).is_in_range);
}

#[test]
fn a_closed_layer_agrees_with_hollands() {
    let mut worst = Worst::default();
    let fluid = air(c(26.85)).unwrap();
    for row in rows("cavity") {
        let (length, difference) = (row.metres("L_m"), CelsiusDelta(row.number("dT_K")));
        let ra = rayleigh(&fluid, difference, length);
        let nusselt = layer_heated_from_below(ra, fluid.prandtl);
        worst.relative(ra, row.number("Ra"), "Ra");
        worst.relative(nusselt.value, row.number("Nu"), "Nu");
        worst.relative(nusselt.coefficient_w_m2k(&fluid, length), row.number("h_W_m2K"), "h");
    }
    worst.within(1e-6);
    assert_eq!(layer_heated_from_below(1700.0, 0.7).value, 1.0);
}

#[test]
fn still_films_around_prey_agree() {
    let (mut in_air, mut in_water) = (Worst::default(), Worst::default());
    for row in rows("prey_film") {
        let (d, around) = (row.metres("D_m"), row.celsius("t_fluid_C"));
        let surface = c(around.degrees() + row.number("body_minus_fluid_K"));
        let is_air = row.text("fluid") == "air";
        let (film, worst) = if is_air {
            (film::in_air(d, around, surface).unwrap(), &mut in_air)
        } else {
            (film::in_water(d, around, surface).unwrap(), &mut in_water)
        };
        worst.relative(film.cylinder_w_m2k, row.number("h_cylinder_W_m2K"), d.metres());
        worst.relative(film.sphere_w_m2k, row.number("h_sphere_W_m2K"), d.metres());
        if is_air {
            let radiation = film::radiation_w_m2k(around, surface).unwrap();
            worst.relative(radiation, row.number("h_radiation_0.95"), "radiation");
            worst.relative(film.cylinder_w_m2k + radiation, row.number("h_cyl_plus_rad"), "both");
        }
    }
    in_air.within(1e-6);
    // Water by interpolation between rows 5 K apart: 2e-5 in its properties.
    in_water.within(2e-5);
}

#[test]
fn radiation_agrees_with_the_fourth_powers() {
    let mut worst = Worst::default();
    for row in rows("radiation") {
        let (t1, t2) = (row.celsius("t1_C"), row.celsius("t2_C"));
        let eps = Emissivity::new(row.number("eps1")).unwrap();
        let (flux, coefficient) = match row.maybe("eps2") {
            None => (to_surroundings_w_m2(eps, t1, t2), coefficient_w_m2k(eps, t1, t2)),
            Some(second) => {
                let second = Emissivity::new(second).unwrap();
                (
                    between_plates_w_m2((t1, eps), (t2, second)),
                    between_plates_coefficient_w_m2k((t1, eps), (t2, second)),
                )
            }
        };
        // The fluxes to surroundings were computed with the constant of CODATA 2014.
        let constant = if row.maybe("eps2").is_none() { 5.670_367 / 5.670_374_419 } else { 1.0 };
        if t1 == t2 {
            worst.absolute(flux, row.number("q_W_m2"), "no difference");
        } else {
            worst.relative(flux * constant, row.number("q_W_m2"), format!("{t1:?} {t2:?}"));
        }
        worst.relative(coefficient, row.number("h_rad_W_m2K"), format!("{t1:?} {t2:?}"));
    }
    // Half a unit of the ninth digit, all that the table has.
    worst.within(5e-9);
}

#[test]
fn view_factors_agree_with_closed_forms_and_with_numbers() {
    let (mut closed, mut numbers) = (Worst::default(), Worst::default());
    for row in rows("view_factors") {
        let [a, b, h]: [Metres; 3] = ["p1_m", "p2_m", "p3_m"].map(|column| row.metres(column));
        let got = match row.text("case").split('(').next() {
            Some("disk_to_disk") => view_disk_to_disk(a, b, h),
            Some("parallel_rectangles") => view_facing_rectangles(a, b, h),
            _ => view_floor_to_wall(a, b, h),
        };
        closed.relative(got, row.number("F12"), row.text("case"));
        if let Some(number) = row.maybe("F12_numeric_check") {
            numbers.relative(got, number, row.text("case"));
        }
    }
    closed.within(1e-8);
    // The sums over 40 × 40 patches are coarse.
    numbers.within(1e-3);
}

#[test]
fn faces_of_heaters_share_their_heat_as_computed() {
    let (mut film, mut share) = (Worst::default(), Worst::default());
    for row in rows("heater_split") {
        let (length, face) = (row.metres("L_m"), row.celsius("T_surface_C"));
        let (around, walls) = (c(27.0), c(25.0));
        let fluid = air(c(0.5 * (face.degrees() + 27.0))).unwrap();
        let ra = rayleigh(&fluid, face - around, length);
        let name = row.text("heater");
        let nusselt = if name.contains("ball") || name.contains("envelope") {
            sphere(ra, fluid.prandtl)
        } else if name.contains("wall") {
            vertical_plate(ra, fluid.prandtl)
        } else if name.contains("cable") {
            horizontal_cylinder(ra, fluid.prandtl)
        } else {
            horizontal_plate(ra, if name.contains("face down") { Facing::HotDown } else { Facing::HotUp })
        };
        let h = nusselt.coefficient_w_m2k(&fluid, length);
        let eps = Emissivity::new(row.number("eps")).unwrap();
        film.relative(h, row.number("h_conv_W_m2K"), name);
        share.relative(to_surroundings_w_m2(eps, face, walls), row.number("q_rad_W_m2"), name);
        let got = radiant_share(eps, face, walls, around, h).unwrap();
        share.relative(got, row.number("radiant_fraction_of_face"), name);
    }
    film.within(1e-6);
    share.within(1e-6);
    assert!(radiant_share(Emissivity::BLACK, c(20.0), c(25.0), c(27.0), 5.0).is_none());
}

#[test]
fn short_forms_for_room_air_are_within_ten_percent_on_small_walls_and_twenty_on_tall_ones() {
    let (mut small, mut tall) = (Worst::default(), Worst::default());
    for row in rows("vertical_plate") {
        // The short form is laminar.
        if (1e4..1e9).contains(&row.number("Ra")) {
            let height = row.metres("height_m");
            let got = room_air::wall_w_m2k(CelsiusDelta(row.number("dT_K")), height);
            let worst = if height.metres() <= 0.3 { &mut small } else { &mut tall };
            worst.relative(got, row.number("h_W_m2K"), row.text("height_m"));
        }
    }
    small.within(0.10);
    tall.within(0.21);
}
