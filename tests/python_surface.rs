//! The Python package: its own tests with nothing but the standard library and
//! with NumPy, the same bits as Rust, and its installation.
#![cfg(feature = "capi")]
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

#[path = "c_surface/bits.rs"]
mod bits;
mod common;

use common::{has, is_there, libraries, root, scratch, succeeded};
use ferrogall::bench::Lot;
use ferrogall::quantity::*;
use ferrogall::recipe::{Extraction, Kit, Recipe, Solution};
use ferrogall::uncertainty::{Measurand, MonteCarlo, Study};
use std::env::consts::{DLL_PREFIX, DLL_SUFFIX};
use std::path::{Path, PathBuf};
use std::process::Command;

const PYTHON: &str = "python3";

fn package() -> PathBuf {
    root().join("examples/python")
}

fn library() -> PathBuf {
    libraries().join(format!("{DLL_PREFIX}ferrogall{DLL_SUFFIX}"))
}

/// Python in the package's folder, with the library just built.
fn python() -> Command {
    let mut command = Command::new(PYTHON);
    command
        .current_dir(package())
        .env("PYTHONDONTWRITEBYTECODE", "1")
        .env("PYTHONPATH", package())
        .env("FERROGALL_LIBRARY", library());
    command
}

/// Whether Python can import something.
fn imports(what: &str, statement: &str) -> bool {
    let tried = Command::new(PYTHON).args(["-c", statement]).output();
    is_there(what, tried.is_ok_and(|output| output.status.success()))
}

/// How many tests unittest says it ran.
fn count(said: &str) -> usize {
    let line = said.lines().find_map(|line| line.strip_prefix("Ran "));
    line.unwrap().split(' ').next().unwrap().parse().unwrap()
}

/// Runs a folder of Python tests, whose report goes to stderr.
fn unittests(options: &[&str], folder: &str) -> usize {
    let output = python()
        .args(options)
        .args(["-m", "unittest", "discover", "-v", "-s", folder])
        .output()
        .unwrap();
    succeeded(folder, &output);
    let said = String::from_utf8_lossy(&output.stderr);
    for line in said.lines().filter(|line| line.contains("skipped")) {
        eprintln!("{line}");
    }
    count(&said)
}

#[test]
fn tests_pass_with_the_standard_library_alone() {
    if has(PYTHON) {
        // -S: no site-packages, so nothing else can be imported.
        assert!(unittests(&["-S", "-W", "error"], "tests") >= 70);
    }
}

#[test]
fn tests_pass_with_numpy() {
    if has(PYTHON) && imports("NumPy", "import numpy") {
        assert!(unittests(&[], "tests/with_numpy") >= 5);
    }
}

#[test]
fn importing_the_package_does_not_import_numpy() {
    if !has(PYTHON) || !imports("NumPy", "import numpy") {
        return;
    }
    let question = "import ferrogall, sys; print('numpy' in sys.modules)";
    let output = python().args(["-c", question]).output().unwrap();
    assert_eq!(succeeded("importing", &output).trim(), "False");
}

#[test]
fn a_thousand_recipes_have_the_same_bits_in_python_and_in_rust() {
    if !has(PYTHON) {
        return;
    }
    let output = python().args(["-S", "bits.py"]).output().unwrap();
    let text = succeeded("bits.py", &output);
    assert_eq!(text.lines().count(), 1000);
    for (python, rust) in text.lines().zip(bits::lines()) {
        assert_eq!(python, rust);
    }
}

/// Draws of a study, two figures to a line.
const DRAWS: &str = "
import struct
from ferrogall import Kit, Measurand, Recipe, Shelf, Study
shelf = Shelf()
galls = shelf.add('aleppo_galls', name='galls', tannin=(0.5, 0.06))
vitriol = shelf.add('iron_ii_sulfate_heptahydrate', name='vitriol')
water = shelf.add('distilled_water', name='water')
recipe = Recipe('ink')
recipe.begin_solution('ink')
recipe.add_extraction(galls, plant_g=12.0, liquid=water, liquid_ml=200.0)
recipe.add(vitriol, mass_g=4.5)
study = Study(recipe, kit=Kit(balance_step_g=0.5, cylinder_step_ml=10.0))
drawn = study.draws([Measurand.IRON_PER_GALLOYL, Measurand.VOLUME_ML], seed=7, draws=1000)
for figures in zip(*(drawn.column(m) for m in drawn.measurands)):
    print(*(struct.pack('>d', x).hex() for x in figures))
";

#[test]
fn draws_have_the_same_bits_in_python_and_in_rust() {
    if !has(PYTHON) {
        return;
    }
    let output = python().args(["-S", "-c", DRAWS]).output().unwrap();
    let text = succeeded("draws", &output);
    let lot = |id, name| Lot::of(id).unwrap().named(name);
    let galls = lot("aleppo_galls", "galls").tannin(0.5, 0.06).unwrap();
    let galls = galls.build().unwrap();
    let vitriol = lot("iron_ii_sulfate_heptahydrate", "vitriol");
    let vitriol = vitriol.build().unwrap();
    let water = lot("distilled_water", "water").build().unwrap();
    let soak = Extraction::new(&galls, grams(12.0), &water, milliliters(200.0));
    let ink = Solution::new("ink").extract(soak).add(&vitriol, grams(4.5));
    let study = Study::of(&Recipe::new("ink").with(ink)).unwrap();
    let kit = Kit::new(grams(0.5), milliliters(10.0));
    let plan = MonteCarlo::fixed(7, 1000).unwrap();
    let [ratio, volume] = study
        .weighed_with(&kit)
        .unwrap()
        .monte_carlo(&plan, [Measurand::IronPerGalloyl, Measurand::Volume])
        .unwrap();
    let hex = |x: f64| format!("{:016x}", x.to_bits());
    let pairs = ratio.drawn().iter().zip(volume.drawn());
    let expected: Vec<String> = pairs
        .map(|(r, v)| format!("{} {}", hex(*r), hex(*v)))
        .collect();
    assert_eq!(text.lines().collect::<Vec<_>>(), expected);
}

fn copy(from: &Path, to: &Path, files: &[&str]) {
    std::fs::create_dir_all(to).unwrap();
    for file in files {
        std::fs::copy(from.join(file), to.join(file)).unwrap();
    }
}

/// An empty folder.
fn fresh(name: &str) -> PathBuf {
    let folder = scratch().join(name);
    if folder.exists() {
        std::fs::remove_dir_all(&folder).unwrap();
    }
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// `pip install --target` of a copy of the package: building leaves files.
fn pip_install(into: &Path, library: &Path) -> std::process::Output {
    let source = fresh("python_source");
    copy(
        &package(),
        &source,
        &["pyproject.toml", "setup.py", "README.md"],
    );
    let modules = std::fs::read_dir(package().join("ferrogall")).unwrap();
    let names: Vec<String> = modules
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.ends_with(".py") || name == "py.typed")
        .collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    copy(
        &package().join("ferrogall"),
        &source.join("ferrogall"),
        &names,
    );
    Command::new(PYTHON)
        .args(["-m", "pip", "install", "--no-deps", "--no-build-isolation"])
        .args(["--no-index", "--disable-pip-version-check", "--target"])
        .arg(into)
        .arg(source)
        .env("FERROGALL_LIBRARY", library)
        .output()
        .unwrap()
}

#[test]
fn installed_package_brings_its_library_and_runs_the_workshop() {
    let wheels = "import setuptools, pip\n\
                  try: import setuptools.command.bdist_wheel\n\
                  except ImportError: import wheel.bdist_wheel";
    if !has(PYTHON) || !imports("pip with setuptools and wheel", wheels) {
        return;
    }
    let refused = pip_install(&fresh("python_nowhere"), Path::new("nowhere.so"));
    let said = String::from_utf8_lossy(&refused.stderr) + String::from_utf8_lossy(&refused.stdout);
    assert!(!refused.status.success());
    assert!(said.contains("cargo rustc --release --lib"), "{said}");

    let installed = fresh("python_installed");
    succeeded("pip install", &pip_install(&installed, &library()));
    assert!(installed.join("ferrogall/py.typed").is_file());
    assert!(
        installed
            .join("ferrogall")
            .join(library().file_name().unwrap())
            .is_file()
    );

    // Away from the package's folder, which would be imported instead.
    let elsewhere = fresh("python_elsewhere");
    copy(&package(), &elsewhere, &["bindery.py"]);
    let output = Command::new(PYTHON)
        .args(["-S", "bindery.py"])
        .current_dir(elsewhere)
        .env("PYTHONPATH", installed)
        .env("PYTHONIOENCODING", "utf-8")
        .env_remove("FERROGALL_LIBRARY")
        .output()
        .unwrap();
    the_workshop_adds_up(&succeeded("bindery.py", &output));
}

#[test]
fn workshop_runs_from_the_checkout() {
    if has(PYTHON) {
        let output = python().args(["-S", "bindery.py"]).output().unwrap();
        the_workshop_adds_up(&succeeded("bindery.py", &output));
    }
}

fn the_workshop_adds_up(text: &str) {
    for part in [
        "With sumac:",
        "of tannic acid",
        "Twenty bottles want",
        "INPUT_NAN",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
    // What the sumac brought, the tannic acid brings: the ratio stays, but for
    // the rounding to half a gram.
    let ratios: Vec<f64> = text
        .lines()
        .filter_map(|line| line.strip_prefix("  iron per galloyl"))
        .map(|rest| rest.split_whitespace().next().unwrap().parse().unwrap())
        .collect();
    assert_eq!(ratios.len(), 2);
    assert!(
        (ratios[0] - ratios[1]).abs() < 0.05 * ratios[0],
        "{ratios:?}"
    );
}
