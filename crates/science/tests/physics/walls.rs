use crate::table::{Worst, c, m, rows};
use science::physics::enclosure::{Enclosure, Lid, Sheet, losses};
use science::physics::materials::Material;
use science::physics::ventilation::*;
use science::physics::walls::*;
use units::{CelsiusDelta, RelativeHumidity};

fn material(name: &str) -> Material {
    match name {
        "pvc_solid" => Material::SolidPvc,
        "pvc_foamed" => Material::FoamedPvc,
        "melamine_chipboard" => Material::Chipboard,
        other => Material::from_key(other).unwrap(),
    }
}

#[test]
fn u_values_inner_faces_and_dew_agree() {
    let mut worst = Worst::default();
    for row in rows("u_values") {
        let wall = Layer::of(material(row.text("material")), m(row.number("thickness_mm") / 1000.0));
        let foam = Layer::of(Material::Polystyrene, m(0.025));
        let side = film::SIDEWAYS_M2K_W;
        let u = u_value_w_m2k(&[wall], side, side).unwrap();
        worst.relative(u, row.number("U_W_m2K"), row.text("material"));
        worst.relative(u_value_w_m2k(&[wall, foam], side, side).unwrap(), row.number("U_with_25mm_EPS"), "foam");
        let inside = row.celsius("t_air_in_C");
        let face = inner_face(u, side, inside, row.celsius("t_room_C")).unwrap();
        worst.relative(face.degrees(), row.number("t_inner_surface_C"), row.text("material"));
        let dew = humidity_of_dew_percent(face, inside).unwrap();
        worst.relative(dew, row.number("rh_pct_where_condensation_starts"), row.text("material"));
    }
    worst.within(1e-6);
    assert!(u_value_w_m2k(&[], 0.0, 0.0).is_none());
}

#[test]
fn dew_settles_where_the_face_is_below_the_dew_point() {
    for row in rows("condensation") {
        let (inside, room) = (row.celsius("T_air_C"), row.celsius("T_room_C"));
        let humidity = RelativeHumidity::from_percent(row.number("rh")).unwrap();
        let got = dew_settles(row.number("U"), row.number("Rsi"), inside, room, humidity).unwrap();
        assert_eq!(got, row.text("condenses") == "True", "{inside:?} {room:?} {humidity:?}");
    }
}

#[test]
fn a_covered_mat_is_as_hot_as_its_resistances_make_it() {
    let mut worst = Worst::default();
    for row in rows("mat") {
        let (up, down) = (row.number("R_up"), row.number("R_down"));
        let got = mat_under_cover(row.number("flux_W_m2"), up, down, row.celsius("around_C")).unwrap();
        worst.relative(got.degrees(), row.number("mat_C"), up);
    }
    worst.within(1e-6);
    assert!(mat_under_cover(100.0, 0.0, 1.0, c(24.0)).is_none());
    assert_eq!(share_upwards(0.2, 0.6).map(|share| (share * 100.0).round()), Some(75.0));
}

#[test]
fn buoyant_flows_agree() {
    let mut worst = Worst::default();
    for row in rows("ventilation") {
        let difference = CelsiusDelta(row.number("dT_K"));
        let inside = units::Celsius::from_kelvin(row.number("T_in_K")).unwrap();
        let height = row.metres("height_or_length_m");
        let flow = match row.text("case") {
            "two_openings" => {
                two_openings_m3_s((row.number("p1"), row.number("p2")), height, inside, difference).unwrap()
            }
            "one_vertical_opening_two_way" => {
                upright_opening_m3_s(row.number("p1"), height, inside, difference).unwrap()
            }
            "horizontal_mesh_open_area_epstein" => open_lid_m3_s(row.number("p1"), inside, difference).unwrap(),
            _ => doorway_m3_s(row.metres("p1"), height, inside, difference),
        };
        worst.relative(flow, row.number("Q_m3_s"), row.text("case"));
        if row.text("case") == "warm_cool_doorway_exchange" {
            worst.relative(heat_of_flow_w_k(flow), row.number("Q_m3_h_or_W_per_K"), "heat");
        }
    }
    worst.within(1e-6);
    assert!(open_lid_m3_s(0.0, c(27.0), CelsiusDelta(6.0)).is_none());
}

#[test]
fn losses_of_whole_enclosures_agree_part_by_part() {
    let mut worst = Worst::default();
    for row in rows("enclosure_losses") {
        let sheet =
            |name: &str, mm: &str| Sheet { material: material(row.text(name)), thickness: m(row.number(mm) / 1000.0) };
        let walls = sheet("wall", "t_mm");
        let is_mesh = row.text("lid") == "mesh";
        let lid = if is_mesh {
            Lid::Mesh { passes: SCREEN }
        } else {
            Lid::Solid(Sheet { material: material(row.text("lid")), thickness: walls.thickness })
        };
        let enclosure = Enclosure {
            front: sheet("front", "tf_mm"),
            lid,
            substrate: Some(Sheet { material: Material::DrySubstrate, thickness: m(0.03) }),
            air_changes_per_h: row.number("ach_per_h"),
            ..Enclosure::plain(row.metres("L_m"), row.metres("W_m"), row.metres("H_m"), walls)
        };
        let got = losses(&enclosure, CelsiusDelta(6.0)).unwrap();
        let name = row.text("enclosure");
        worst.relative(got.walls_w_k, row.number("UA_walls"), name);
        worst.relative(got.front_w_k, row.number("UA_front"), name);
        worst.absolute(got.lid_w_k, row.number("UA_lid"), name);
        worst.relative(got.floor_w_k, row.number("UA_floor"), name);
        // The table takes air of 1.165 kg/m³ where the model takes 1.17.
        let air = got.air_w_k * 1.165 / 1.17;
        worst.relative(air, row.number("UA_vent"), name);
        let total = got.total_w_k() - got.air_w_k + air;
        worst.relative(total, row.number("UA_total_W_K"), name);
        worst.relative(total * 6.0, row.number("W_at_mean_6K"), name);
    }
    worst.within(1e-6);
}
