use crate::table::{Worst, c, rows};
use science::physics::psychrometrics::*;
use units::{Pascals, RelativeHumidity};

#[test]
fn moist_air_agrees_with_the_ashrae_equations() {
    let mut all = Worst::default();
    let mut dew = Worst::default();
    // The reference finds the wet bulb by halving until 0.001 K; the equation itself is checked beside it.
    let mut wet = Worst::default();
    let mut wet_equation = Worst::default();
    for row in rows("psychrometrics") {
        let (t, p) = (row.celsius("tdb_C"), Pascals(row.number("p_Pa")));
        let air = MoistAir::from_relative_humidity(t, row.percent("rh_pct"), p).unwrap();
        let at = format!("{} °C, {} %, {} Pa", t.degrees(), row.text("rh_pct"), p.pascals());
        all.relative(saturation_pressure(t).unwrap().pascals(), row.number("pws_Pa"), &at);
        all.relative(air.vapour_pressure().pascals(), row.number("pw_Pa"), &at);
        all.relative(air.humidity_ratio(), row.number("W_kg_per_kg"), &at);
        all.relative(air.volume_m3_kg(), row.number("v_m3_per_kg_da"), &at);
        all.relative(air.density_kg_m3(), row.number("rho_kg_m3"), &at);
        all.relative(air.enthalpy_j_kg(), row.number("h_J_per_kg_da"), &at);
        all.relative(air.vapour_density_kg_m3() * 1000.0, row.number("abs_hum_g_m3"), &at);
        all.relative(air.vapour_pressure_deficit().unwrap().pascals(), row.number("vpd_Pa"), &at);
        dew.absolute(air.dew_point().unwrap().degrees(), row.number("tdew_C"), &at);
        let wet_bulb = air.wet_bulb().unwrap();
        wet.absolute(wet_bulb.degrees(), row.number("twb_C"), &at);
        let back = MoistAir::from_wet_bulb(t, wet_bulb, p).unwrap();
        wet_equation.relative(back.humidity_ratio(), air.humidity_ratio(), &at);
    }
    all.within(1e-6);
    dew.within(1e-6);
    wet.within(1e-3);
    wet_equation.within(1e-6);
}

#[test]
fn real_gas_air_is_as_close_as_the_ideal_equations_allow() {
    let (mut w, mut dew, mut wet, mut volume) =
        (Worst::default(), Worst::default(), Worst::default(), Worst::default());
    for row in rows("psychrometrics") {
        let air =
            MoistAir::from_relative_humidity(row.celsius("tdb_C"), row.percent("rh_pct"), Pascals(row.number("p_Pa")))
                .unwrap();
        w.relative(air.humidity_ratio(), row.number("coolprop_W"), row.text("tdb_C"));
        dew.absolute(air.dew_point().unwrap().degrees(), row.number("coolprop_tdew_C"), row.text("tdb_C"));
        volume.relative(air.volume_m3_kg(), row.number("coolprop_v"), row.text("tdb_C"));
        if 0.0 < row.number("coolprop_twb_C") {
            wet.absolute(air.wet_bulb().unwrap().degrees(), row.number("coolprop_twb_C"), row.text("tdb_C"));
        }
    }
    w.within(0.0058);
    dew.within(0.017);
    wet.within(0.026);
    volume.within(0.0005);
}

#[test]
fn the_magnus_form_agrees() {
    let (mut pressure, mut dew, mut apart) = (Worst::default(), Worst::default(), Worst::default());
    for row in rows("psychrometrics") {
        let (t, humidity) = (row.celsius("tdb_C"), row.percent("rh_pct"));
        pressure.relative(magnus_pressure(t).unwrap().pascals(), row.number("magnusAE_es_Pa"), row.text("tdb_C"));
        let magnus = magnus_dew_point(t, humidity).unwrap().degrees();
        dew.absolute(magnus, row.number("magnusAE_tdew_C"), row.text("tdb_C"));
        if 0.0 < row.number("tdew_C") {
            apart.absolute(magnus, row.number("tdew_C"), row.text("tdb_C"));
        }
    }
    pressure.within(1e-6);
    dew.within(1e-6);
    apart.within(0.035);
}

#[test]
fn from_dew_point_wet_bulb_and_altitude_the_way_back_agrees() {
    let mut worst = Worst::default();
    for row in rows("psychrometrics_inverse") {
        let (a, b, p) = (row.number("in1"), row.number("in2"), Pascals(row.number("in3")));
        let humidity = |air: Option<MoistAir>| air.unwrap().relative_humidity().unwrap().percent();
        let got = match row.text("what") {
            "rh_from_dew" => humidity(MoistAir::from_dew_point(c(a), c(b), p)),
            "rh_from_wetbulb" => humidity(MoistAir::from_wet_bulb(c(a), c(b), p)),
            "pressure_from_altitude_Pa" => standard_pressure(a).unwrap().pascals(),
            _ => station_pressure(Pascals(a), b, c(row.number("in3"))).unwrap().pascals(),
        };
        worst.relative(got, row.number("expected"), row.text("what"));
    }
    worst.within(1e-6);
}

#[test]
fn warmed_air_keeps_its_water() {
    let mut worst = Worst::default();
    for row in rows("humidity_after_warming") {
        let got =
            humidity_after_warming_percent(row.celsius("t1_C"), row.percent("rh1_pct"), row.celsius("t2_C")).unwrap();
        worst.relative(got, row.number("rh2_pct"), row.text("t1_C"));
    }
    worst.within(1e-6);
}

#[test]
fn a_probe_beside_the_spot_reads_what_its_own_temperature_makes_of_the_air() {
    let mut worst = Worst::default();
    for row in rows("humidity_probe") {
        let spot = row.celsius("t_true_C");
        let probe = c(spot.degrees() + row.number("probe_minus_true_K"));
        let got = what_a_probe_reads(spot, row.percent("rh_true_pct"), probe).unwrap();
        worst.relative(got.percent(), row.number("rh_read_pct_capped"), row.text("t_true_C"));
    }
    worst.within(1e-6);
}

#[test]
fn one_enclosure_has_one_dew_point_and_two_humidities() {
    // Cool side 24 °C and 60 %, warm side 32 °C: 37.6 %.
    let cool =
        MoistAir::from_relative_humidity(c(24.0), RelativeHumidity::from_percent(60.0).unwrap(), Pascals::ATMOSPHERE)
            .unwrap();
    let warm = cool.brought_to(c(32.0)).unwrap();
    assert!((warm.relative_humidity().unwrap().percent() - 37.6).abs() < 0.05);
    assert!((warm.dew_point().unwrap() - cool.dew_point().unwrap()).kelvin().abs() < 1e-9);
    assert!((cool.humidity_at(c(32.0)).unwrap().percent() - 37.6).abs() < 0.05);
}
