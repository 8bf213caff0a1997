//! The catalogue against the published tables it was drawn from.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

mod table;

use std::collections::HashSet;

use approx::assert_abs_diff_eq;
use ferrogall::bench::{
    IronState, Material, Usability, acids, dyes, find, gums, humectants, iron_salts, materials,
    preservatives, tannin_sources, waters,
};
use ferrogall::composition::Component;
use ferrogall::source::{Range, Source};
use table::{Row, number, table};

// --- every table -----------------------------------------------------------

#[test]
fn ids_are_unique_snake_case_and_found_again() {
    let mut seen = HashSet::new();
    for material in materials() {
        let id = material.id();
        let snake = id.split('_').all(|word| {
            !word.is_empty()
                && word
                    .bytes()
                    .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit())
        });
        assert!(snake, "{id}");
        assert!(seen.insert(id), "{id} twice");
        assert_eq!(find(id), Some(material));
    }
    for absent in ["", "phenol ", "Phenol", "phenoł", "phen"] {
        assert_eq!(find(absent), None);
    }
}

#[test]
fn every_row_names_itself_and_its_source() {
    let grades = acids().iter().flat_map(|a| a.grades).map(|g| g.source);
    let galloyl = tannin_sources().iter().map(|t| t.galloyl_source);
    let sources: Vec<Source> = materials().map(|m| m.source()).collect();
    for source in sources.into_iter().chain(grades).chain(galloyl) {
        assert!(!source.citation.trim().is_empty());
    }
    for material in materials() {
        assert!(!material.name().is_empty(), "{}", material.id());
    }
}

#[test]
fn ranges_are_ordered_and_not_negative() {
    let mut ranges: Vec<(&str, Range)> = Vec::new();
    for material in materials() {
        let id = material.id();
        match material {
            Material::TanninSource(t) => ranges.extend([
                (id, t.tannin_percent),
                (id, t.moisture_percent),
                (id, t.gallic_acid_percent),
                (id, t.galloyl_mmol_per_g),
            ]),
            Material::Gum(g) => ranges.extend([(id, g.moisture_percent), (id, g.dose_g_per_l)]),
            Material::Dye(d) => ranges.push((id, d.dose_g_per_l)),
            Material::Preservative(p) => ranges.push((id, p.dose_g_per_l)),
            Material::Humectant(h) => ranges.push((id, h.dose_g_per_l)),
            Material::Water(w) => {
                ranges.extend([(id, w.alkalinity_mg_per_l), (id, w.hardness_mg_per_l)]);
            }
            _ => {}
        }
    }
    assert!(ranges.len() > 80);
    for (id, r) in ranges {
        let ordered = 0.0 <= r.min && r.min <= r.typical && r.typical <= r.max;
        assert!(ordered && r.max.is_finite(), "{id}: {r:?}");
    }
}

/// The last digit of a CAS number is the sum of the others, each times its
/// place from the right, modulo 10 (Chemical Abstracts Service, check digit).
#[test]
fn cas_numbers_have_valid_check_digits() {
    let mut checked = 0;
    for material in materials() {
        for cas in material.cas().split(" / ").filter(|cas| !cas.is_empty()) {
            let digits: Vec<u32> = cas.chars().rev().filter_map(|c| c.to_digit(10)).collect();
            let sum: u32 = digits
                .iter()
                .zip(0..)
                .map(|(digit, place)| digit * place)
                .sum();
            assert_eq!(sum % 10, digits[0], "{}: {cas}", material.id());
            checked += 1;
        }
    }
    assert!(checked > 45, "{checked}");
}

// --- iron salts ------------------------------------------------------------

#[test]
fn iron_salts_match_the_published_table_row_by_row() {
    // Numbers that no cited text prints for that very hydrate are left out.
    let unconfirmed = [
        "iron_ii_sulfate_tetrahydrate",
        "iron_ii_nitrate_hexahydrate",
        "iron_ii_gluconate_dihydrate",
        "iron_ii_tartrate",
    ];
    let published = table("iron_salts.csv");
    assert_eq!(iron_salts().len(), published.len());
    for (salt, row) in iron_salts().iter().zip(&published) {
        assert_eq!(salt.name, row["name"]);
        assert_eq!(
            salt.id,
            salt.name
                .replace("(II)", "_ii")
                .replace("(III)", "_iii")
                .replace(' ', "_")
        );
        assert_eq!(salt.formula, row["formula"]);
        let state = if row["oxidation_state"] == "II" {
            IronState::Two
        } else {
            IronState::Three
        };
        assert_eq!(salt.state, state, "{}", salt.id);
        let usability = match row["usable_for_ink"].as_str() {
            "yes" => Usability::Yes,
            "limited" => Usability::Limited,
            "no (trace only)" => Usability::TraceOnly,
            "no" => Usability::No,
            other => panic!("{other}"),
        };
        assert_eq!(salt.usability, usability, "{}", salt.id);
        assert_eq!(
            salt.handbook_molar_mass_g_per_mol,
            number(row, "M_handbook")
        );
        assert_eq!(salt.density_g_per_cm3, number(row, "solid_density_g_cm3"));
        if unconfirmed.contains(&salt.id) {
            assert_eq!(salt.cas, "");
        } else {
            assert_eq!(salt.cas, row["CAS"], "{}", salt.id);
        }
    }
}

/// Molar mass (IUPAC 2021 abridged atomic weights, summed by hand) and charge.
fn ion(component: Component) -> (f64, f64) {
    match component {
        Component::IronII => (55.845, 2.0),
        Component::IronIII => (55.845, 3.0),
        Component::Ammonium => (18.039, 1.0),
        Component::Sulfate => (96.056, -2.0),
        Component::Chloride => (35.45, -1.0),
        Component::Nitrate => (62.004, -1.0),
        Component::Acetate => (59.044, -1.0),
        Component::Gluconate => (195.147, -1.0),
        Component::Lactate => (89.070, -1.0),
        Component::Tartrate => (148.070, -2.0),
        Component::Citrate => (189.099, -3.0),
        Component::Oxalate => (88.018, -2.0),
        Component::Carbonate => (60.008, -2.0),
        other => panic!("{other:?} in an iron salt"),
    }
}

#[test]
fn ions_and_crystal_water_add_up_to_the_molar_mass_and_iron_share() {
    let published = table("iron_salts.csv");
    for (salt, row) in iron_salts().iter().zip(&published) {
        let total = |of: fn((f64, f64)) -> f64| -> f64 {
            salt.ions.iter().map(|&(c, n)| n * of(ion(c))).sum()
        };
        // What the charges leave over are acidic protons.
        let protons = -total(|(_, charge)| charge);
        let hydrogen_salt = salt.id == "iron_ii_hydrogen_citrate";
        assert_eq!(protons, f64::from(u8::from(hydrogen_salt)), "{}", salt.id);
        let mass = total(|(mass, _)| mass) + 1.008 * protons + 18.015 * salt.crystal_water;
        // The table is printed to 0.001 g/mol and 0.01 %.
        let expected = number(row, "M_g_per_mol_IUPAC2021").unwrap();
        assert_abs_diff_eq!(mass, expected, epsilon = 6e-4);
        let iron: f64 = salt
            .ions
            .iter()
            .filter(|(c, _)| matches!(c, Component::IronII | Component::IronIII))
            .map(|(_, n)| n * 55.845)
            .sum();
        let expected = number(row, "Fe_wt_pct_pure").unwrap();
        assert_abs_diff_eq!(100.0 * iron / mass, expected, epsilon = 6e-3);
    }
}

// --- tannin ----------------------------------------------------------------

const TANNIN_ROWS: &[(&str, &str)] = &[
    ("aleppo_galls", "Aleppo galls"),
    ("marble_galls", "marble galls"),
    ("oak_apples", "oak apples / cherry galls"),
    ("knopper_galls", "knopper galls"),
    ("chinese_galls", "Chinese galls"),
    ("sumac_leaf", "sumac leaf"),
    ("tara_pods", "tara pod powder"),
    ("oak_bark", "oak bark"),
    ("chestnut_extract", "chestnut solid extract"),
    ("valonia", "valonia (whole)"),
    ("acorn_cups", "acorn cups, native oaks"),
    ("myrobalan", "myrobalan"),
    ("pomegranate_rind", "pomegranate rind"),
    ("walnut_husk", "walnut husk"),
    ("witch_hazel", "witch hazel leaf or bark"),
    ("green_tea_leaf", "green tea leaf"),
    ("alder_cones", "alder cones"),
    ("tannic_acid", "tannic acid, commercial"),
    ("gallic_acid_monohydrate", "gallic acid monohydrate"),
];

fn tannin_percent(id: &str) -> Range {
    let Some(Material::TanninSource(t)) = find(id) else {
        panic!("{id}");
    };
    if id.starts_with("gallic_acid") {
        assert_eq!(t.tannin_percent, Range::exact(0.0));
        return t.gallic_acid_percent;
    }
    t.tannin_percent
}

#[test]
fn tannin_spans_match_the_recommended_values() {
    let recommended: Vec<Row> = table("tannin_sources.csv")
        .into_iter()
        .filter(|row| row["row_type"] == "recommended")
        .collect();
    // All but the tea bag, which is given per bag and checked below.
    assert_eq!(TANNIN_ROWS.len() + 1, recommended.len());
    for (id, material) in TANNIN_ROWS {
        let row = recommended
            .iter()
            .find(|row| row["material"] == *material)
            .unwrap();
        let [min, typical, max] = ["min", "typical", "max"].map(|c| number(row, c).unwrap());
        let span = tannin_percent(id);
        // The table prints the monohydrate's 90.4244 % to two decimals.
        assert_abs_diff_eq!(span.min, min, epsilon = 0.005);
        assert_abs_diff_eq!(span.typical, typical, epsilon = 0.005);
        assert_abs_diff_eq!(span.max, max, epsilon = 0.005);
    }
}

#[test]
fn black_tea_matches_leaf_and_brew() {
    let tea = tannin_percent("black_tea_leaf");
    // Khokhar & Magnusdottir 2002: 80.5–134.9 mg/g, rounded to 8–13.5 %.
    let rows = table("tannin_sources.csv");
    let leaf = rows
        .iter()
        .find(|row| row["material"] == "black tea leaf")
        .unwrap();
    assert_abs_diff_eq!(tea.min, number(leaf, "min").unwrap() / 10.0, epsilon = 0.06);
    assert_abs_diff_eq!(tea.max, number(leaf, "max").unwrap() / 10.0, epsilon = 0.06);
    // Brews of 0.96 g in 100 mL, 4 min or more: 1064 mg/L; here to the whole percent.
    assert_abs_diff_eq!(tea.typical, 1064.0 * 0.1 / 0.96 / 10.0, epsilon = 0.5);
}

/// IUPAC 2021 molar masses: gallic acid 170.120, its hydrate 188.135,
/// pentagalloylglucose 940.681, decagalloylglucose 1701.206, water 18.015.
#[test]
fn galloyl_units_per_gram_follow_the_formulas() {
    let row = |id: &str| *tannin_sources().iter().find(|t| t.id == id).unwrap();
    let tannic = row("tannic_acid").galloyl_mmol_per_g;
    assert_abs_diff_eq!(tannic.min, 5_000.0 / 940.681, epsilon = 5e-4);
    assert_abs_diff_eq!(tannic.max, 10_000.0 / 1701.206, epsilon = 5e-4);
    // A bought lot lies between the two (2–12 units by supplier texts).
    assert!(tannic.min < tannic.typical && tannic.typical < tannic.max);
    let hydrate = row("gallic_acid_monohydrate");
    assert_abs_diff_eq!(
        hydrate.gallic_acid_percent.typical,
        17_012.0 / 188.135,
        epsilon = 5e-3
    );
    assert_abs_diff_eq!(
        hydrate.moisture_percent.typical,
        1_801.5 / 188.135,
        epsilon = 5e-3
    );
    assert_eq!(
        hydrate.galloyl_mmol_per_g,
        row("gallic_acid").galloyl_mmol_per_g
    );
}

// --- reference doses -------------------------------------------------------

/// SFS 1964:504, TT-I-563 (Zimmerman 1935, J. Res. NBS 15 RP807) and
/// BS 3484:1962, at second hand: phenol 1 g/L; soluble blue 3.5, 3.5 and
/// 3.0 g/L in the two that have it; gum 10 g/L in SFS 1964:504.
#[test]
fn doses_cover_the_reference_inks() {
    let phenol = preservatives().iter().find(|p| p.id == "phenol").unwrap();
    assert_eq!(phenol.reference_dose_g_per_l, Some(1.0));
    assert!(phenol.dose_g_per_l.contains(1.0));
    let blue = dyes().iter().find(|d| d.id == "soluble_blue").unwrap();
    assert!(blue.dose_g_per_l.contains(3.0) && blue.dose_g_per_l.contains(3.5));
    assert!(gums()[0].dose_g_per_l.contains(10.0));
}

#[test]
fn basic_dyes_are_not_dosed_with_tannin() {
    for dye in dyes().iter().filter(|d| d.precipitates_with_tannin) {
        assert_eq!(dye.dose_g_per_l, Range::exact(0.0), "{}", dye.id);
    }
}

#[test]
fn densities_are_the_handbook_ones() {
    // CRC Handbook 102nd ed. 2021: glycerol at 20 °C.
    let glycerol = humectants().iter().find(|h| h.id == "glycerol").unwrap();
    assert_eq!(glycerol.density_g_per_cm3, 1.2611);
    // CRC densities as carried by the `chemicals` data package.
    for (id, density) in [
        ("phenol", 1.0545),
        ("thymol", 0.970),
        ("eugenol", 1.065),
        ("phenoxyethanol", 1.102),
        ("salicylic_acid", 1.443),
        ("benzoic_acid", 1.266),
    ] {
        let row = preservatives().iter().find(|p| p.id == id).unwrap();
        assert_eq!(row.density_g_per_cm3, Some(density), "{id}");
    }
}

/// WHO 2011 classes as quoted: soft to 60, moderate to 120, hard to 180 mg/L.
#[test]
fn tap_waters_follow_the_hardness_classes() {
    let bounds: Vec<(f64, f64)> = waters()
        .iter()
        .filter(|w| w.id.ends_with("tap_water"))
        .map(|w| (w.hardness_mg_per_l.min, w.hardness_mg_per_l.max))
        .collect();
    assert_eq!(bounds[..3], [(0.0, 60.0), (60.0, 120.0), (120.0, 180.0)]);
    assert_eq!(bounds[3].0, 180.0);
}
