//! What enclosures are made of.

/// Properties of a material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Properties {
    /// Thermal conductivity, W/(m·K).
    pub conductivity_w_mk: f64,
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// Specific heat, J/(kg·K).
    pub heat_j_kgk: f64,
    /// Where the values are from.
    pub source: &'static str,
}

impl Properties {
    /// Heat that a square metre of it takes per kelvin, J/(m²·K): ρ c d.
    pub fn heat_of_sheet_j_m2k(&self, thickness: units::Metres) -> f64 {
        self.density_kg_m3 * self.heat_j_kgk * thickness.metres()
    }
}

/// A material of walls, or what lies on the floor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Material {
    /// Soda-lime glass.
    Glass,
    /// Acrylic, PMMA.
    Acrylic,
    /// Polycarbonate.
    Polycarbonate,
    /// Solid PVC.
    SolidPvc,
    /// Foamed PVC sheet.
    FoamedPvc,
    /// Polypropylene: tubs.
    Polypropylene,
    /// High-density polyethylene.
    Hdpe,
    /// Plywood.
    Plywood,
    /// Medium-density fibreboard.
    Mdf,
    /// Chipboard under melamine.
    Chipboard,
    /// Expanded polystyrene.
    Polystyrene,
    /// Dry substrate: shavings, bark, dry coir.
    DrySubstrate,
    /// Moist coir or soil.
    MoistSubstrate,
    /// Water.
    Water,
    /// Stone and ceramics.
    Stone,
}

impl Material {
    /// All that are listed.
    pub const ALL: [Material; 15] = [
        Material::Glass,
        Material::Acrylic,
        Material::Polycarbonate,
        Material::SolidPvc,
        Material::FoamedPvc,
        Material::Polypropylene,
        Material::Hdpe,
        Material::Plywood,
        Material::Mdf,
        Material::Chipboard,
        Material::Polystyrene,
        Material::DrySubstrate,
        Material::MoistSubstrate,
        Material::Water,
        Material::Stone,
    ];

    /// The word under which it is known.
    pub fn key(self) -> &'static str {
        match self {
            Material::Glass => "glass",
            Material::Acrylic => "acrylic",
            Material::Polycarbonate => "polycarbonate",
            Material::SolidPvc => "solid-pvc",
            Material::FoamedPvc => "foamed-pvc",
            Material::Polypropylene => "polypropylene",
            Material::Hdpe => "hdpe",
            Material::Plywood => "plywood",
            Material::Mdf => "mdf",
            Material::Chipboard => "chipboard",
            Material::Polystyrene => "polystyrene",
            Material::DrySubstrate => "dry-substrate",
            Material::MoistSubstrate => "moist-substrate",
            Material::Water => "water",
            Material::Stone => "stone",
        }
    }

    /// The inverse of [`Material::key`].
    pub fn from_key(key: &str) -> Option<Material> {
        Material::ALL.into_iter().find(|material| material.key() == key)
    }

    /// Its properties.
    pub fn properties(self) -> Properties {
        let (conductivity_w_mk, density_kg_m3, heat_j_kgk, source) = match self {
            Material::Glass => (1.0, 2500.0, 750.0, "ISO 10456"),
            Material::Acrylic => (0.20, 1050.0, 1500.0, "ISO 10456"),
            Material::Polycarbonate => (0.20, 1200.0, 1200.0, "ISO 10456"),
            Material::SolidPvc => (0.17, 1390.0, 900.0, "ISO 10456"),
            Material::FoamedPvc => (0.06, 600.0, 1000.0, "sheet makers' data: 0.05 to 0.09 W/(m·K), 500 to 700 kg/m³"),
            Material::Polypropylene => (0.22, 910.0, 1800.0, "ISO 10456"),
            Material::Hdpe => (0.50, 980.0, 1800.0, "ISO 10456"),
            Material::Plywood => (0.13, 500.0, 1600.0, "ISO 10456; ASHRAE tables give 0.09 to 0.10 W/(m·K)"),
            Material::Mdf => (0.14, 600.0, 1700.0, "ISO 10456"),
            Material::Chipboard => (0.14, 800.0, 1300.0, "ISO 10456; ASHRAE tables give 0.135 W/(m·K)"),
            Material::Polystyrene => (0.036, 20.0, 1450.0, "ISO 10456: 0.033 to 0.040 W/(m·K)"),
            Material::DrySubstrate => (0.10, 150.0, 1600.0, "Ahn et al. 2009, compost bulking materials: 0.03 to 0.30"),
            Material::MoistSubstrate => (0.40, 500.0, 3200.0, "Ahn et al. 2009: moist 0.12 to 0.81 W/(m·K)"),
            Material::Water => (0.60, 998.0, 4190.0, "ISO 10456"),
            Material::Stone => (1.5, 2300.0, 840.0, "ISO 10456: stone and ceramics, 840 J/(kg·K)"),
        };
        Properties { conductivity_w_mk, density_kg_m3, heat_j_kgk, source }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_material_is_found_under_its_key_and_has_a_source() {
        for material in Material::ALL {
            assert_eq!(Material::from_key(material.key()), Some(material));
            let p = material.properties();
            assert!(!p.source.is_empty() && 0.0 < p.conductivity_w_mk && 0.0 < p.density_kg_m3 && 0.0 < p.heat_j_kgk);
        }
        assert_eq!(Material::from_key("unobtainium"), None);
    }
}
