use crate::table::{Row, Worst, c, m, rows};
use proptest::prelude::*;
use science::physics::prey::estimate::{cleland_thawing, pham_freezing, plank_thawing};
use science::physics::prey::front::Sharp;
use science::physics::prey::growth::{GrowthCurve, growth_log10};
use science::physics::prey::*;
use units::{Celsius, Grams, Metres, Seconds};

fn food(name: &str) -> Food {
    let composition = match name {
        "prey_pinky" => Composition::PINKY,
        "lean_meat" => Composition::LEAN_MEAT,
        _ => Composition::ADULT_RODENT,
    };
    Food::new(composition, Food::USUAL_DENSITY_KG_M3).unwrap()
}

fn stage(medium: f64, film_w_m2k: f64, seconds: f64) -> Stage {
    Stage { medium: Medium::Constant(c(medium)), film_w_m2k, duration: Seconds(seconds), keep_every: Seconds(seconds) }
}

fn centre(reaches: f64) -> Watch {
    Watch { spot: Spot::Centre, reaches: c(reaches) }
}

fn surface(reaches: f64) -> Watch {
    Watch { spot: Spot::Surface, reaches: c(reaches) }
}

/// Seconds until the centre reaches temperatures.
fn thaw(food: &Food, body: Body, film: f64, medium: f64, watches: &[Watch], shells: usize) -> Vec<Option<f64>> {
    let patience = 8.0 * cleland_thawing(food, &body, film, c(medium), c(-18.0)).unwrap().seconds();
    let mut thawing = Thawing::new(food, body, c(-18.0), shells).unwrap();
    let end = thawing.run_until_seen(&stage(medium, film, patience), watches).unwrap();
    end.crossings.into_iter().map(|crossing| crossing.map(Seconds::seconds)).collect()
}

#[test]
fn heat_content_ice_and_conductivity_agree() {
    let mut worst = Worst::default();
    for row in rows("food") {
        let food = food(row.text("food"));
        let t = row.celsius("t_C");
        worst.absolute(food.enthalpy_kj_kg(t.degrees()), row.number("H_kJ_kg"), t.degrees());
        worst.absolute(food.ice(t), row.number("ice_fraction"), t.degrees());
        worst.relative(food.conductivity(t), row.number("k_W_mK"), t.degrees());
    }
    worst.within(1e-6);
}

fn shape(row: &Row) -> Body {
    let r = row.metres("R_m");
    match row.text("shape") {
        "slab" => Body::slab(r),
        "cylinder" => Body::cylinder(r),
        _ => Body::sphere(r),
    }
}

#[test]
fn simple_shapes_thaw_in_the_time_of_the_reference() {
    let food = food("prey_adult_rodent");
    let (mut times, mut formulas) = (Worst::default(), Worst::default());
    for row in rows("thaw_shapes") {
        let (body, film, medium) = (shape(&row), row.number("h_W_m2K"), row.number("t_medium_C"));
        let at = format!("{} R {} h {film} in {medium} °C", row.text("shape"), row.text("R_m"));
        let got = thaw(&food, body, film, medium, &[centre(-2.0), centre(0.0), centre(4.0)], 40);
        for (got, column) in got.iter().zip(["s_centre_-2C", "s_centre_0C", "s_centre_4C"]) {
            if let Some(wanted) = row.maybe(column) {
                times.relative(got.unwrap(), wanted, format!("{at} {column}"));
            }
        }
        let cleland = cleland_thawing(&food, &body, film, c(medium), c(-18.0)).unwrap();
        formulas.relative(cleland.seconds(), row.number("cleland1987_s"), &at);
        formulas.relative(plank_thawing(&food, &body, film, c(medium)).unwrap().seconds(), row.number("plank_s"), &at);
    }
    times.within(0.005);
    formulas.within(1e-6);
}

#[test]
fn prey_thaws_and_warms_in_every_medium_as_in_the_reference() {
    let (mut bodies, mut quick) = (Worst::default(), Worst::default());
    let (mut times, mut early) = (Worst::default(), Worst::default());
    for row in rows("thaw_times") {
        let food = food(row.text("food"));
        let mass = Grams::new(row.number("mass_g")).unwrap();
        let (film, medium) = (row.number("h_W_m2K"), row.number("t_medium_C"));
        let beta = row.number("L_over_D");
        let d = Body::diameter_of_mass(mass, beta, Food::USUAL_DENSITY_KG_M3).unwrap();
        let biot = film * d.metres() / 2.0 / food.conductivity(c(0.0));
        let body = Body::spheroid(d, beta, biot).unwrap();
        bodies.relative(d.metres(), row.number("D_m"), "diameter");
        bodies.relative(body.dimension(), row.number("E_dim"), "dimension");
        let cleland = cleland_thawing(&food, &body, film, c(medium), c(-18.0)).unwrap().minutes();
        bodies.relative(cleland, row.number("cleland1987_min_centre_0C"), "Cleland");
        bodies.relative(
            plank_thawing(&food, &body, film, c(medium)).unwrap().minutes(),
            row.number("plank_min"),
            "Plank",
        );
        let at = format!("{} in {}", row.text("item"), row.text("medium"));
        let columns = [
            ("min_centre_0C", centre(0.0)),
            ("min_centre_4C", centre(4.0)),
            ("min_surface_5C_480_shells", surface(5.0)),
            ("min_centre_35C", centre(35.0)),
        ];
        for (column, watch) in columns.into_iter().filter(|(column, _)| row.maybe(column).is_some()) {
            let wanted = row.number(column) * 60.0;
            // In water the surface passes 5 °C when a layer thinner than a shell of sixty has thawed. The reference's own
            // answers with 60, 240 and 480 shells differ by up to 4 %, in the bare rabbit's half minute by 27 %.
            let is_early = watch.spot == Spot::Surface && row.text("medium").contains("water");
            let shells = if is_early { 120 } else { 60 };
            let got = thaw(&food, body, film, medium, &[watch], shells)[0].unwrap();
            let worst = if is_early { &mut early } else { &mut times };
            worst.relative(got, wanted, format!("{at} {column}"));
        }
        quick.relative(cleland, row.number("min_centre_0C"), &at);
    }
    bodies.within(1e-6);
    times.within(0.005);
    early.within(0.10);
    quick.within(0.14);
}

#[test]
fn more_shells_change_nothing() {
    let food = food("prey_adult_rodent");
    let time = |shells: usize| thaw(&food, Body::cylinder(m(0.012)), 12.0, 21.0, &[centre(0.0)], shells)[0].unwrap();
    let fine = time(160);
    for (shells, allowed) in [(20, 5e-3), (40, 2e-3), (80, 1e-3)] {
        assert!((time(shells) / fine - 1.0).abs() < allowed, "{shells} shells: {} and {fine} s", time(shells));
    }
}

#[test]
fn refrigerator_bath_and_offering_follow_the_reference() {
    let food = food("prey_adult_rodent");
    let table = rows("two_stage");
    for item in ["mouse 25 g", "rat 250 g"] {
        let own: Vec<&Row> = table.iter().filter(|row| row.text("item") == item).collect();
        let body = Body::of_dimension(own[0].metres("R_m"), own[0].number("E")).unwrap();
        let in_water = own[0].number("minutes_in_water") * 60.0;
        let start = || Thawing::new(&food, body, c(-18.0), 60).unwrap();
        let run =
            |thawing: &mut Thawing<'_, Food>, medium: f64, film: f64, seconds: f64, every: f64, watches: &[Watch]| {
                let stage = Stage { keep_every: Seconds(every), ..stage(medium, film, seconds) };
                thawing.run(&stage, watches).unwrap()
            };
        let mut thawing = start();
        let cold = run(&mut thawing, 4.0, 8.0, 43_200.0, 3600.0, &[]);
        let mut in_bath = thawing.clone();
        let events = [surface(32.0), centre(30.0), centre(35.0)];
        let bath = run(&mut in_bath, 42.0, 90.0, 2400.0, 120.0, &events);
        run(&mut thawing, 42.0, 90.0, in_water, in_water, &[]);
        let events = [surface(32.0), surface(29.0), surface(27.0)];
        let air = run(&mut thawing, 22.0, 12.0, 5400.0, 300.0, &events);
        let (mut profiles, mut times) = (Worst::default(), Worst::default());
        for row in own {
            let end = match row.text("stage") {
                "1" => &cold,
                "2" => &bath,
                _ => &air,
            };
            let what = row.text("what");
            if what == "profile" {
                let profile =
                    end.profiles.iter().find(|p| (p.time.seconds() - row.number("t_s")).abs() < 1e-6).unwrap();
                let at = format!("{item}, stage {}, {} s", row.text("stage"), row.text("t_s"));
                profiles.absolute(profile.mean_c, row.number("mean_C"), &at);
                profiles.absolute(profile.centre_c, row.number("centre_C"), &at);
                profiles.absolute(profile.surface_c, row.number("surface_C"), &at);
            } else if let Some(wanted) = row.maybe("t_s") {
                let place = match what {
                    "surface_32" => 0,
                    "centre_30" | "surface_29" => 1,
                    _ => 2,
                };
                times.relative(end.crossings[place].unwrap().seconds(), wanted, format!("{item} {what}"));
            }
        }
        times.within(0.005);
        profiles.within(0.1);
    }
}

#[test]
fn the_offering_window_is_that_of_the_reference() {
    let food = food("prey_adult_rodent");
    let table = rows("two_stage");
    // Surface 32 to 27 °C after a bath, dry: mouse 16 to 37 min, rat 12 to 58 min.
    for (item, opens, closes) in [("mouse 25 g", 16.0, 37.0), ("rat 250 g", 12.0, 58.0)] {
        let row = table.iter().find(|row| row.text("item") == item).unwrap();
        let body = Body::of_dimension(row.metres("R_m"), row.number("E")).unwrap();
        let warm = || {
            let mut thawing = Thawing::new(&food, body, c(-18.0), 40).unwrap();
            thawing.run(&stage(4.0, 8.0, 43_200.0), &[]).unwrap();
            thawing.run(&stage(42.0, 90.0, row.number("minutes_in_water") * 60.0), &[]).unwrap();
            thawing
        };
        let limits = (c(27.0), c(32.0));
        let dry = offering_window(&mut warm(), c(22.0), 12.0, limits, Seconds::from_hours(3.0)).unwrap();
        assert!((dry.opens.minutes() - opens).abs() < 1.0, "{item} opens at {}", dry.opens.minutes());
        assert!((dry.closes.minutes() - closes).abs() < 1.0, "{item} closes at {}", dry.closes.minutes());
        let wet =
            offering_window(&mut warm(), c(22.0), 12.0 + WET_FUR_W_M2K, limits, Seconds::from_hours(3.0)).unwrap();
        let length = |w: &OfferingWindow| w.closes.minutes() - w.opens.minutes();
        assert!((0.3..0.7).contains(&(length(&wet) / length(&dry))), "{item}: {} of {}", length(&wet), length(&dry));
        assert!(offering_window(&mut warm(), c(30.0), 12.0, limits, Seconds::from_hours(12.0)).is_none());
    }
}

#[test]
fn one_dimension_is_as_close_to_two_as_the_reference() {
    let food = food("prey_adult_rodent");
    let mut same = Worst::default();
    for (name, seconds, dimension) in
        [("thaw_cylinder_2d", "s_1D_with_E_Hossain", "E_Hossain"), ("thaw_spheroid_2d", "s_2", "E_Hossain")]
    {
        for row in rows(name) {
            let body = Body::of_dimension(row.metres("R_m"), row.number(dimension)).unwrap();
            let got =
                thaw(&food, body, row.number("h_W_m2K"), row.number("t_medium_C"), &[centre(0.0)], 40)[0].unwrap();
            same.relative(got, row.number(seconds), name);
            if name == "thaw_spheroid_2d" {
                // With the factor it stands within the 3 % of the coarse grid of the reference.
                let off = SPHEROID_TIME_FACTOR * got / row.number("s_centre_0C_2D") - 1.0;
                assert!(off.abs() < 0.035, "{off}");
            }
        }
    }
    same.within(0.005);
}

#[test]
fn public_rules_of_thumb_are_met_as_in_the_reference() {
    let lean = food("lean_meat");
    let mut worst = Worst::default();
    for row in rows("thaw_public") {
        let film = row.number("h_W_m2K");
        let (body, medium) = if row.text("case").contains("steak") {
            (Body::slab(m(0.0127)), 4.0)
        } else if row.text("case").contains("38 mm") {
            (Body::of_dimension(m(0.019), 1.3).unwrap(), 15.0)
        } else {
            (Body::of_dimension(m(0.025), 1.3).unwrap(), 15.0)
        };
        let got = thaw(&lean, body, film, medium, &[centre(row.number("centre_end_C"))], 40)[0].unwrap();
        worst.relative(got / 3600.0, row.number("model_h"), row.text("case"));
    }
    worst.within(0.005);
}

const HALF_SPACE: Sharp = Sharp {
    melted_w_mk: 0.49,
    melted_j_m3k: 3.52e6,
    solid_w_mk: 1.45,
    solid_j_m3k: 2.0e6,
    latent_j_m3: 2.2e8,
    melting_c: -1.0,
};

#[test]
fn neumanns_front_agrees() {
    let mut worst = Worst::default();
    for row in rows("neumann") {
        let (surface, start) = (row.celsius("Ts_C"), row.celsius("Ti_C"));
        worst.relative(HALF_SPACE.neumann(surface, start).unwrap(), row.number("lambda"), "lambda");
        let front = |s: f64| HALF_SPACE.front(surface, start, Seconds(s)).unwrap().metres() * 1000.0;
        worst.relative(front(600.0), row.number("front_mm_after_600s"), "600 s");
        worst.relative(front(3600.0), row.number("front_mm_after_3600s"), "3600 s");
        let quick = HALF_SPACE.quasi_steady_front(surface, Seconds(3600.0)).unwrap().metres() * 1000.0;
        worst.relative(quick, row.number("one_phase_quasi_steady_mm_3600s"), "quasi-steady");
    }
    worst.within(1e-6);
    assert!(HALF_SPACE.neumann(c(-1.0), c(-18.0)).is_none() && HALF_SPACE.neumann(c(4.0), c(0.0)).is_none());
}

#[test]
fn the_shells_follow_neumanns_front() {
    // 90 mm is a half-space for 300 s; 900 shells as in the reference, which is off by 0.6 %.
    for surface in [21.0, 40.0] {
        let mut thawing = Thawing::new(&HALF_SPACE, Body::slab(m(0.09)), c(-18.0), 900).unwrap();
        thawing.run(&stage(surface, 1e6, 300.0), &[]).unwrap();
        let melted: f64 = thawing.enthalpies_kj_kg().iter().map(|h| HALF_SPACE.melted_share(*h)).sum();
        let front = melted * 0.09 / 900.0;
        let exact = HALF_SPACE.front(c(surface), c(-18.0), Seconds(300.0)).unwrap().metres();
        assert!((front / exact - 1.0).abs() < 0.006, "{front} and {exact} m");
    }
}

#[test]
fn without_a_change_of_phase_the_shells_follow_the_series() {
    // Thawed tissue: constant heat, and conductivity that varies by 1 % from 20 to 30 °C.
    use science::physics::transient::{Series, Shape};
    let food = food("prey_adult_rodent");
    let (r, film) = (0.012, 40.0);
    let k = food.conductivity(c(25.0));
    let alpha = k / (food.heat_thawed_kj_kgk() * 1000.0 * Food::USUAL_DENSITY_KG_M3);
    for (shape, body) in
        [(Shape::Slab, Body::slab(m(r))), (Shape::Cylinder, Body::cylinder(m(r))), (Shape::Sphere, Body::sphere(m(r)))]
    {
        let series = Series::new(shape, film * r / k).unwrap();
        let seconds = 0.5 * r * r / alpha;
        let mut thawing = Thawing::new(&food, body, c(20.0), 40).unwrap();
        let end = thawing.run(&stage(30.0, film, seconds), &[]).unwrap();
        let last = end.profiles.last().unwrap();
        let exact = |theta: f64| 30.0 - 10.0 * theta;
        assert!((last.centre_c - exact(series.theta(0.5, 0.0).unwrap())).abs() < 0.05, "{shape:?}");
        assert!((last.surface_c - exact(series.theta(0.5, 1.0).unwrap())).abs() < 0.05, "{shape:?}");
        assert!((last.mean_c - exact(series.mean(0.5).unwrap())).abs() < 0.05, "{shape:?}");
    }
}

#[test]
fn a_small_bath_ends_where_the_heat_balance_says() {
    let food = food("prey_adult_rodent");
    let (mut balance, mut stepped) = (Worst::default(), Worst::default());
    for row in rows("bath") {
        let grams = |column: &str| Grams::new(row.number(column)).unwrap();
        let (prey, water) = (grams("prey_g"), grams("water_g"));
        let (from, hot) = (row.celsius("prey_start_C"), row.celsius("water_start_C"));
        let end = bath::common_end(&food, prey, from, water, hot).unwrap();
        balance.absolute(end.degrees(), row.number("common_end_C"), "end");
        balance.relative(bath::heat_needed_kj(&food, prey, from, c(35.0)), row.number("heat_to_35C_kJ"), "heat");
        let needed = bath::water_needed(&food, prey, from, c(35.0), hot, c(37.0)).unwrap();
        balance.relative(needed.grams(), row.number("water_g_to_end_at_37C"), "water");
        if row.number("prey_g") == 80.0 {
            let around = Bath { water, start: hot, loss_w_k: 0.0, room: c(20.0), prey };
            let d = Body::diameter_of_mass(prey, 3.0, Food::USUAL_DENSITY_KG_M3).unwrap();
            let body = Body::spheroid(d, 3.0, 5.0).unwrap();
            let mut thawing = Thawing::new(&food, body, from, 20).unwrap();
            let six_hours = Stage { medium: Medium::Bath(around), ..stage(0.0, 90.0, 6.0 * 3600.0) };
            let last = *thawing.run(&six_hours, &[]).unwrap().profiles.last().unwrap();
            stepped.absolute(last.medium_c, row.number("common_end_C"), "medium");
            stepped.absolute(last.mean_c, row.number("common_end_C"), "prey");
        }
    }
    balance.within(1e-6);
    stepped.within(0.01);
    assert!(bath::common_end(&food, Grams::new(25.0).unwrap(), c(20.0), Grams::new(500.0).unwrap(), c(10.0)).is_none());
}

#[test]
fn growth_curves_and_sums_agree() {
    let mut worst = Worst::default();
    for row in rows("growth_rate") {
        let t = row.celsius("t_C");
        for (curve, column) in [
            (GrowthCurve::RawChicken, "chicken_raw_juneja2007"),
            (GrowthCurve::GroundBeef, "beef_raw_ground_juneja2009"),
            (GrowthCurve::CookedChicken, "chicken_cooked_gropin1449"),
            (GrowthCurve::CookedChickenSquared, "chicken_cooked_gropin1448"),
        ] {
            worst.relative(curve.printed(t), row.number(column), format!("{column} at {}", t.degrees()));
        }
        if 5.2 < t.degrees() {
            let (beef, cooked) = (GrowthCurve::GroundBeef, GrowthCurve::CookedChicken);
            worst.relative(beef.log10_per_h(t), row.number("beef_log10_per_h(if ln)"), "beef");
            worst.relative(cooked.log10_per_h(t), row.number("cooked_log10_per_h(as given)"), "cooked");
            worst.relative(beef.doubling(t).unwrap().hours(), row.number("beef_doubling_h"), "beef");
            worst.relative(cooked.doubling(t).unwrap().hours(), row.number("cooked_doubling_h"), "cooked");
        }
    }
    for row in rows("growth_sum") {
        let (hours, t) = match row.text("history") {
            "room_21C_4h" => (4.0, 21.0),
            "room_25C_2h" => (2.0, 25.0),
            "offer_30C_1h" => (1.0, 30.0),
            "fridge_4C_24h" => (24.0, 4.0),
            "fridge_8C_24h" => (24.0, 8.0),
            _ => (10.0, 20.0),
        };
        let history: Vec<(Seconds, Celsius)> =
            (0..=24).map(|k| (Seconds::from_hours(hours * f64::from(k) / 24.0), c(t))).collect();
        let got = growth_log10(&history, GrowthCurve::CookedChicken);
        worst.absolute(got, row.number("log10_growth_no_lag"), row.text("history"));
    }
    worst.within(1e-6);
}

#[test]
fn a_surface_that_warms_in_the_room_grows_more_than_one_in_the_refrigerator() {
    let food = food("prey_adult_rodent");
    let grown = |medium: f64, film: f64, hours: f64| {
        let mut thawing = Thawing::new(&food, Body::cylinder(m(0.0124)), c(-18.0), 40).unwrap();
        let stage = Stage { keep_every: Seconds(60.0), ..stage(medium, film, hours * 3600.0) };
        let history: Vec<(Seconds, Celsius)> =
            thawing.run(&stage, &[]).unwrap().profiles.iter().map(|p| (p.time, c(p.surface_c))).collect();
        growth_log10(&history, GrowthCurve::CookedChicken)
    };
    assert_eq!(grown(4.0, 8.0, 12.0), 0.0);
    let room = grown(21.0, 11.0, 4.0);
    assert!(0.2 < room && room < 0.9055, "below the sum at 21 °C from the start: {room}");
}

#[test]
fn freezing_time_falls_with_the_film_and_needs_a_cold_medium() {
    let food = food("prey_adult_rodent");
    let body = Body::cylinder(m(0.0124));
    let time = |film: f64| pham_freezing(&food, &body, film, c(-18.0), c(20.0), c(-15.0)).unwrap().hours();
    assert!(time(20.0) < time(10.0));
    // The shells take about as long: the method is within 10 % of measured times.
    let mut freezing = Thawing::new(&food, body, c(20.0), 40).unwrap();
    let end = freezing.run(&stage(-18.0, 10.0, 40_000.0), &[centre(-15.0)]).unwrap();
    let shells = end.crossings[0].unwrap().hours();
    assert!((time(10.0) / shells - 1.0).abs() < 0.15, "{} and {shells} h", time(10.0));
    assert!(pham_freezing(&food, &body, 10.0, c(-10.0), c(20.0), c(-15.0)).is_none());
}

#[test]
fn impossible_stages_are_refused() {
    let food = food("prey_adult_rodent");
    let mut thawing = Thawing::new(&food, Body::slab(m(0.01)), c(-18.0), 10).unwrap();
    for bad in
        [stage(4.0, 0.0, 10.0), stage(4.0, 8.0, 0.0), Stage { keep_every: Seconds(0.0), ..stage(4.0, 8.0, 10.0) }]
    {
        assert!(thawing.run(&bad, &[]).is_none());
    }
    assert!(Thawing::new(&food, Body::slab(m(0.01)), c(-18.0), 1).is_none());
    assert!(cleland_thawing(&food, &Body::slab(m(0.01)), 8.0, c(-2.0), c(-18.0)).is_none());
}

fn metres(x: f64) -> Metres {
    m(x)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn better_films_and_warmer_media_thaw_faster(film in 8.0f64..100.0, medium in 4.0f64..35.0, e in 1.0f64..3.0) {
        let food = food("prey_adult_rodent");
        let body = Body::of_dimension(metres(0.012), e).unwrap();
        let time = |film: f64, medium: f64| thaw(&food, body, film, medium, &[centre(0.0)], 20)[0].unwrap();
        let base = time(film, medium);
        prop_assert!(time(film * 1.2, medium) < base);
        prop_assert!(time(film, medium + 2.0) < base);
    }

    #[test]
    fn heat_that_goes_in_is_heat_that_is_there(film in 5.0f64..200.0, e in 1.0f64..3.0, water in 200.0f64..2000.0) {
        let food = food("prey_adult_rodent");
        let body = Body::of_dimension(metres(0.015), e).unwrap();
        let prey = Grams::new(100.0).unwrap();
        let around = Bath { water: Grams::new(water).unwrap(), start: c(42.0), loss_w_k: 0.0, room: c(20.0), prey };
        let mut thawing = Thawing::new(&food, body, c(-18.0), 20).unwrap();
        let before = thawing.mean_enthalpy_kj_kg();
        let stage = Stage { medium: Medium::Bath(around), ..stage(0.0, film, 1200.0) };
        let last = *thawing.run(&stage, &[]).unwrap().profiles.last().unwrap();
        let gained = (thawing.mean_enthalpy_kj_kg() - before) * 0.1;
        let given = water / 1000.0 * 4.18 * (42.0 - last.medium_c);
        prop_assert!((gained - given).abs() < 1e-9 * given, "{} and {} kJ", gained, given);
    }
}

#[test]
fn time_grows_with_the_square_of_thick_bodies_and_in_proportion_with_thin_films() {
    let food = food("prey_adult_rodent");
    let time = |r: f64, film: f64| thaw(&food, Body::cylinder(m(r)), film, 20.0, &[centre(0.0)], 40)[0].unwrap();
    let large_biot = (time(0.02, 1e4) / time(0.01, 1e4)).log2();
    let small_biot = (time(0.02, 0.5) / time(0.01, 0.5)).log2();
    assert!((large_biot - 2.0).abs() < 0.02, "{large_biot}");
    assert!((small_biot - 1.0).abs() < 0.02, "{small_biot}");
}
