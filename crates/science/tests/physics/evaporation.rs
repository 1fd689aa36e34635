use crate::table::{Row, Worst, m, rows};
use science::physics::moisture::evaporation::{by_analogy, carrier_kg_m2h, latent_heat, shah, smith_kg_m2h};
use science::physics::moisture::{AirExchange, Balance, Source, exchange_from_decay};
use units::{RelativeHumidity, Seconds};

#[test]
fn evaporation_laws_agree() {
    let mut worst = Worst::default();
    for row in rows("evaporation") {
        let (water, room, humidity) = (row.celsius("t_water_C"), row.celsius("t_air_C"), row.percent("rh_pct"));
        let at = format!("{} {} {}", water.degrees(), room.degrees(), humidity.percent());
        let law = shah(water, room, humidity).unwrap();
        // The difference of densities loses three digits; the table has nine.
        worst.relative(law.rate_kg_m2h(), row.number("shah_max"), &at);
        worst.absolute(law.natural_kg_m2h, row.number("shah_natural"), &at);
        worst.absolute(law.density_difference_kg_m3, row.number("rho_r_minus_rho_w_dryair"), &at);
        worst.relative(law.stray_kg_m2h, row.number("shah_forced_term"), &at);
        worst.relative(carrier_kg_m2h(water, room, humidity, 0.0, 1.0).unwrap(), row.number("carrier_still"), &at);
        worst.relative(
            carrier_kg_m2h(water, room, humidity, 0.0, 0.5).unwrap(),
            row.number("carrier_activity_0.5"),
            &at,
        );
        worst.relative(smith_kg_m2h(water, room, humidity).unwrap(), row.number("smith_unoccupied"), &at);
        let analogy = by_analogy(water, room, humidity, m(0.15 / 4.0)).unwrap();
        worst.relative(analogy.rate_kg_m2h, row.number("lewis_analogy_bowl15cm"), &at);
        worst.relative(analogy.mass_transfer_m_s, row.number("h_m_m_s"), &at);
    }
    worst.within(1e-6);
}

#[test]
fn bowls_lose_the_grams_a_day_of_the_table() {
    let mut worst = Worst::default();
    for row in rows("bowl_daily") {
        let (water, room) = (row.celsius("t_water_C"), row.celsius("t_air_C"));
        let rate = shah(water, room, row.percent("rh_pct")).unwrap().rate_kg_m2h();
        let area = std::f64::consts::PI * row.number("bowl_diameter_m").powi(2) / 4.0;
        worst.relative(rate, row.number("E_kg_m2h"), "rate");
        worst.relative(rate * area * 24_000.0, row.number("grams_per_day"), "grams");
        // The table takes 2.44 MJ/kg at every temperature.
        let latent = latent_heat(rate, area, water).watts() * 2.44e6 / (2.501e6 - 2361.0 * water.degrees());
        worst.relative(latent, row.number("latent_W"), "latent");
    }
    worst.within(1e-6);
}

fn balance(row: &Row) -> Balance {
    let sources: Vec<Source> = [("A1", "k1", "t1"), ("A2", "k2", "t2")]
        .into_iter()
        .filter_map(|(area, k, t)| {
            Some(Source { area_m2: row.maybe(area)?, mass_transfer_m_s: row.number(k), surface: row.celsius(t) })
        })
        .collect();
    let exchange = AirExchange {
        air_changes_per_h: row.number("ach"),
        room: row.celsius("room_C"),
        room_humidity: row.percent("rh_room"),
    };
    Balance::new(row.number("V_m3"), 1.0, row.celsius("air_C"), exchange, &sources).unwrap()
}

#[test]
fn moisture_balances_agree() {
    let percent = |value: f64| RelativeHumidity::from_percent(value).unwrap();
    let grams_a_day = |kg_s: f64| kg_s * 86_400.0 * 1000.0;
    let mut worst = Worst::default();
    for row in rows("moisture") {
        let b = balance(&row);
        let at = row.maybe("at").unwrap_or(f64::NAN);
        let Some(wanted) = row.maybe("value") else {
            assert!(b.time_to(percent(95.0), percent(60.0)).is_none(), "{}", row.text("case"));
            continue;
        };
        let start = percent(95.0);
        let got = match row.text("what") {
            "tau_s" => b.time_constant().seconds(),
            "rh_steady" => b.steady_humidity().unwrap().percent(),
            "rh_without_sources" => b.humidity_without_sources_percent(),
            "evaporation_g_per_day_steady" => grams_a_day(b.evaporation_kg_s()),
            "s_to_halfway" => b.time_constant().seconds() * std::f64::consts::LN_2,
            "s_from_95_to_60" => b.time_to(start, percent(60.0)).unwrap().seconds(),
            "need" => grams_a_day(b.loss_kg_s(percent(at))),
            "need_beyond_sources" => grams_a_day(b.to_add_kg_s(percent(at))),
            _ => b.humidity_after(start, Seconds(at)).unwrap().percent(),
        };
        worst.relative(got, wanted, format!("{} {} {at}", row.text("case"), row.text("what")));
    }
    // The table has eight digits; differences of near values lose two.
    worst.within(1e-6);
}

#[test]
fn a_decay_with_the_bowl_in_gives_the_same_air_change_as_one_without() {
    // 432 L; slope −1.47 an hour with a bowl of 0.2036 m³/h.
    let changes = exchange_from_decay(-1.47, 0.2036, 0.432).unwrap();
    assert!((changes - 0.998_704).abs() < 1e-6);
    assert!(exchange_from_decay(-0.4, 0.2036, 0.432).is_none());
}
