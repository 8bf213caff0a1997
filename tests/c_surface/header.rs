//! The committed header is what cbindgen makes of the sources.

use crate::common::root;
use std::path::{Path, PathBuf};

/// The files of the room that declare something, in the order of the header.
const FILES: &[&str] = &[
    "status",
    "error",
    "version",
    "bench",
    "chem",
    "lots",
    "homemade",
    "recipe",
    "composition",
    "bottles",
    "rounding",
    "check",
    "verdicts",
    "formulate",
    "wanted",
    "cupboard",
    "blend",
    "inks",
    "oxidation",
    "columns",
    "equilibrium_totals",
    "equilibrium",
    "equilibrium_solve",
    "equilibrium_ink",
    "equilibrium_columns",
    "stored_ink",
    "keeping",
    "course_given",
    "course_events",
    "course",
    "forecast",
    "forecast_columns",
    "measures",
    "rescue",
    "fit",
    "rates",
    "darkening",
    "study",
    "study_answers",
    "study_draws",
    "made_rows",
    "standards",
    "belief",
    "extraction",
    "extraction_answers",
    "extraction_rows",
    "diffusion",
    "assay",
    "titration",
    "titration_rows",
    "phenanthroline",
    "drying",
    "densities",
    "tannin_methods",
    "spot",
    "history",
    "old_recipe",
    "sheet",
];

pub fn committed() -> String {
    std::fs::read_to_string(root().join("include/ferrogall.h")).unwrap_or_default()
}

/// The list of status codes stands in a macro, which cbindgen does not read:
/// a copy without it.
fn unwrapped(file: &str) -> PathBuf {
    let source = root().join("src/capi").join(file).with_extension("rs");
    let text = std::fs::read_to_string(&source).unwrap();
    let Some((before, rest)) = text.split_once("\nstatus_codes! {\n") else {
        return source;
    };
    let (list, after) = rest.split_once("\n}\n").unwrap();
    let copy = Path::new(env!("CARGO_TARGET_TMPDIR")).join("status.rs");
    std::fs::write(&copy, format!("{before}\n{list}\n{after}")).unwrap();
    copy
}

fn generated() -> String {
    let config = cbindgen::Config::from_file(root().join("cbindgen.toml")).unwrap();
    let builder = FILES.iter().fold(
        cbindgen::Builder::new().with_config(config),
        |builder, file| builder.with_src(unwrapped(file)),
    );
    let mut out = Vec::new();
    builder.generate().unwrap().write(&mut out);
    String::from_utf8(out).unwrap()
}

#[test]
fn header_has_not_drifted() {
    let header = generated();
    if std::env::var_os("FERROGALL_BLESS").is_some() {
        std::fs::write(root().join("include/ferrogall.h"), &header).unwrap();
    }
    assert!(
        header == committed(),
        "include/ferrogall.h is stale; make it anew with\n  \
         FERROGALL_BLESS=1 cargo test --test c_surface header"
    );
}

#[test]
fn every_file_of_the_room_is_in_the_header_or_declares_nothing() {
    for entry in std::fs::read_dir(root().join("src/capi")).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_str().unwrap();
        let exports = std::fs::read_to_string(&path)
            .unwrap()
            .contains("no_mangle");
        assert!(
            !exports || FILES.contains(&name),
            "{name}.rs is not in FILES"
        );
    }
}
