//! One profile to a file.

use super::{File, Table};
use crate::fault::propose;
use crate::figure::{ByStage, Figure};
use crate::find::compared;
use crate::profile::{
    Brumation, Climate, EnclosureAlternative, EnclosureNeeds, Fasting, FastingSeason, Feeding, FeedingAlternative,
    FeedingFrom, Habit, Humidity, Law, Life, PreyLimit, Profile, Ration, RefusalAlert, Shed, Size, Temperature,
    WaterNeeds, Who,
};

/// The profile in a file.
pub(crate) fn profile(file: &File<'_>) -> Profile {
    let root = Table::root(file);
    let profile = Profile {
        key: root.need_key("key", "profile key"),
        scientific_name: root.need_text("scientific_name"),
        names: root.texts("names"),
        names_from: section(&root, "names_from", |table| Some(table.provenance())),
        common_names: root.texts("common_names"),
        family: root.need_text("family"),
        general: root.flag("general").unwrap_or_default(),
        climate: root.choice("climate", &Climate::ALL, Climate::key).unwrap_or_default(),
        shape: root.text("shape"),
        live_bearing: root.flag("live_bearing").unwrap_or_default(),
        notes: root.texts("notes"),
        temperature: section(&root, "temperature", temperature),
        humidity: section(&root, "humidity", humidity),
        size: section(&root, "size", size),
        life: section(&root, "life", life),
        habit: section(&root, "habit", habit),
        feeding: section(&root, "feeding", feeding),
        feeding_from: section(&root, "feeding_from", feeding_from),
        feeding_alt: root.tables("feeding_alt").into_iter().map(feeding_alternative).collect(),
        ration: section(&root, "ration", ration),
        prey_limit: section(&root, "prey_limit", prey_limit),
        fasting: section(&root, "fasting", fasting),
        refusal_alert_d: section(&root, "refusal_alert_d", refusal_alert),
        shed: section(&root, "shed", shed),
        enclosure: section(&root, "enclosure", enclosure),
        brumation: section(&root, "brumation", brumation),
        law: section(&root, "law", law),
        water: section(&root, "water", |table| table.figure("change_h").map(|change_h| WaterNeeds { change_h })),
        inherited: Vec::new(),
        overrides: Vec::new(),
    };
    for (name, at) in all_names(&root) {
        if !file.known.asked.contains(&compared(&name)) {
            file.name_once("name", &name, &at);
        }
    }
    root.done();
    profile
}

/// Every name of a profile once, with its place.
fn all_names(root: &Table<'_>) -> Vec<(String, std::ops::Range<usize>)> {
    let listed = root.spanned_texts("names").into_iter().chain(root.spanned_texts("common_names"));
    let unlisted = ["scientific_name", "key"].into_iter().filter_map(|key| root.spanned_text(key));
    let mut names: Vec<(String, std::ops::Range<usize>)> = Vec::new();
    for (name, at) in listed.chain(unlisted) {
        if !names.iter().any(|(known, _)| compared(known) == compared(&name)) {
            names.push((name, at));
        }
    }
    names
}

fn section<T: Default>(root: &Table<'_>, key: &'static str, read: impl Fn(&Table<'_>) -> T) -> T {
    let Some(table) = root.table(key) else { return T::default() };
    let section = read(&table);
    table.done();
    section
}

fn temperature(table: &Table<'_>) -> Temperature {
    Temperature {
        preferred_zone_c: table.figures("preferred_zone_c"),
        basking_surface_c: table.figures("basking_surface_c"),
        warm_ambient_c: table.figures("warm_ambient_c"),
        cool_ambient_c: table.figures("cool_ambient_c"),
        night_min_c: table.figures("night_min_c"),
        surface_absolute_max_c: table.figures("surface_absolute_max_c"),
        digest_min_c: table.figures("digest_min_c"),
        overheat_c: table.figures("overheat_c"),
        night_min_fed_c: table.figures("night_min_fed_c"),
        surface_floor_heat_max_c: table.figures("surface_floor_heat_max_c"),
        basking_h: table.figures("basking_h"),
        alt: table.alternatives("alt_c"),
    }
}

fn humidity(table: &Table<'_>) -> Humidity {
    Humidity {
        normal_pct: table.figures("normal_pct"),
        shed_pct: table.figures("shed_pct"),
        neonate_pct: table.figures("neonate_pct"),
        alt: table.alternatives("alt_pct"),
    }
}

fn size(table: &Table<'_>) -> Size {
    Size {
        adult_length_m_female: table.figures("adult_length_m_female"),
        adult_length_m_male: table.figures("adult_length_m_male"),
        adult_length_m_any: table.figures("adult_length_m_any"),
        adult_svl_m_female: table.figures("adult_svl_m_female"),
        adult_svl_m_male: table.figures("adult_svl_m_male"),
        adult_svl_m_any: table.figures("adult_svl_m_any"),
        adult_svl_m_female_wild: table.figures("adult_svl_m_female_wild"),
        adult_mass_g_female: table.figures("adult_mass_g_female"),
        adult_mass_g_male: table.figures("adult_mass_g_male"),
        adult_mass_g_any: table.figures("adult_mass_g_any"),
        adult_mass_g_female_wild: table.figures("adult_mass_g_female_wild"),
        neonate_length_m: table.figures("neonate_length_m"),
        neonate_mass_g: table.figures("neonate_mass_g"),
    }
}

fn life(table: &Table<'_>) -> Life {
    Life {
        longevity_typical_y: table.figures("longevity_typical_y"),
        longevity_max_y: table.figures("longevity_max_y"),
        maturity_female_d: table.figures("maturity_female_d"),
        clutch_n: table.figures("clutch_n"),
        litter_n: table.figures("litter_n"),
        incubation_d: table.figures("incubation_d"),
        gestation_d: table.figures("gestation_d"),
    }
}

fn habit(table: &Table<'_>) -> Habit {
    Habit {
        activity: table.need_text("activity"),
        habit: table.need_text("habit"),
        uv_zone: table.figures("uv_zone"),
        diet_wild: table.text("diet_wild"),
        prey_staple: table.need_text("prey_staple"),
    }
}

/// Reads the same for each stage.
fn by_stage<T>(read: impl Fn(&'static str) -> Option<T>) -> ByStage<T> {
    ByStage {
        hatchling: read("hatchling"),
        juvenile: read("juvenile"),
        subadult: read("subadult"),
        adult: read("adult"),
    }
}

fn feeding(table: &Table<'_>) -> ByStage<Feeding> {
    by_stage(|stage| feeding_of(table.table(stage)?))
}

fn feeding_of(table: Table<'_>) -> Option<Feeding> {
    table.need_table("interval_d")?;
    let classes = table.spanned_texts("prey_classes");
    let known = &table.file.known.prey;
    for (class, at) in &classes {
        if !known.contains(class) {
            table.file.fault(
                at,
                format!("`{class}` is not a prey class"),
                propose(class, known.iter().map(String::as_str)),
            );
        }
    }
    let feeding = table.figure("interval_d").map(|interval_d| Feeding {
        interval_d,
        prey_pct: table.need_pair("prey_pct"),
        stage_mass_g: table.pair("stage_mass_g"),
        prey_g: table.pair("prey_g"),
        prey_classes: classes.into_iter().map(|(class, _)| class).collect(),
        prey: table.need_text("prey"),
    });
    if feeding.is_some() {
        table.done();
    }
    feeding
}

fn feeding_from(table: &Table<'_>) -> FeedingFrom {
    FeedingFrom {
        stage_mass: section(table, "stage_mass", |from| Some(from.provenance())),
        prey: section(table, "prey", |from| Some(from.provenance())),
    }
}

fn feeding_alternative(table: Table<'_>) -> FeedingAlternative {
    let alternative = FeedingAlternative {
        stage: table.need_text("stage"),
        interval_d: table.pair("interval_d"),
        prey_pct: table.pair("prey_pct"),
        from: table.provenance(),
    };
    table.done();
    alternative
}

fn ration(table: &Table<'_>) -> Option<Ration> {
    Some(Ration {
        mass_g: table.need_number("mass_g"),
        body_c: table.need_number("body_c"),
        k: table.several("k")?,
        maintenance_pct_week: table.figure("maintenance_pct_week")?,
        plan_pct_week: table.figure("plan_pct_week")?,
        note: table.text("note"),
    })
}

fn prey_limit(table: &Table<'_>) -> PreyLimit {
    PreyLimit {
        mass_pct: table.figures("mass_pct"),
        mass_pct_adult: table.figures("mass_pct_adult"),
        girth_x: table.figures("girth_x"),
    }
}

fn fasting(table: &Table<'_>) -> Fasting {
    Fasting {
        tendency: table.need_text("tendency"),
        season: table.need_text("season"),
        seasons: table.tables("seasons").into_iter().map(season).collect(),
        states: table.texts("states"),
        typical_d: table.figures("typical_d"),
    }
}

fn season(table: Table<'_>) -> FastingSeason {
    let season = FastingSeason {
        who: table.choice("who", &Who::ALL, Who::key).unwrap_or(Who::Any),
        months_north: months(&table, "months_north"),
        months_south: months(&table, "months_south"),
        from: table.provenance(),
    };
    table.done();
    season
}

fn months(table: &Table<'_>, key: &'static str) -> Vec<u8> {
    let mut months = Vec::new();
    for number in table.numbers(key) {
        match (1..=12_u8).find(|month| f64::from(*month) == number) {
            Some(month) => months.push(month),
            None => table.file.fault(&table.at, format!("`{key}`: {number} is not a month"), "write months as 1 to 12"),
        }
    }
    months
}

fn refusal_alert(table: &Table<'_>) -> RefusalAlert {
    let alert = |stage: &'static str| -> Option<Figure> { table.figure(stage) };
    RefusalAlert { by_stage: by_stage(alert), adult_male: table.figure("adult_male") }
}

fn shed(table: &Table<'_>) -> Shed {
    Shed {
        interval_d: section(table, "interval_d", |stages| {
            by_stage(|stage| Some(stages.figures(stage)).filter(|figures| !figures.is_empty()))
        }),
        dull_d: table.figures("dull_d"),
        blue_d: table.figures("blue_d"),
        clear_to_shed_d: table.figures("clear_to_shed_d"),
        total_d: table.figures("total_d"),
        alt: table.alternatives("alt_d"),
    }
}

fn enclosure(table: &Table<'_>) -> EnclosureNeeds {
    EnclosureNeeds {
        length_x: table.figures("length_x"),
        width_x: table.figures("width_x"),
        height_x: table.figures("height_x"),
        substrate_depth_m: table.figures("substrate_depth_m"),
        alt: table.tables("alt").into_iter().map(enclosure_alternative).collect(),
    }
}

fn enclosure_alternative(table: Table<'_>) -> EnclosureAlternative {
    let alternative = EnclosureAlternative {
        factors_lxwxh: table.several("factors_lxwxh"),
        length_x: table.number("length_x"),
        length_m: table.number("length_m"),
        width_m: table.number("width_m"),
        height_m: table.number("height_m"),
        floor_m2: table.number("floor_m2"),
        what: table.text("what"),
        from: table.provenance(),
    };
    table.done();
    alternative
}

fn brumation(table: &Table<'_>) -> Brumation {
    Brumation {
        relevance: table.need_text("relevance"),
        temp_c: table.figures("temp_c"),
        hold_weeks: table.figures("hold_weeks"),
        note: table.text("note"),
    }
}

fn law(table: &Table<'_>) -> Law {
    Law { cites: table.need_text("cites"), source: table.source(), status: table.status(), note: table.text("note") }
}
