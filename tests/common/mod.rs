//! What the tests of other languages share: tools, and the libraries to load.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::sync::OnceLock;

/// The checkout.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A folder of the build for whatever the tests make.
pub fn scratch() -> &'static Path {
    Path::new(env!("CARGO_TARGET_TMPDIR"))
}

/// Whether something is there, which on CI it has to be.
pub fn is_there(what: &str, found: bool) -> bool {
    assert!(
        found || std::env::var_os("CI").is_none(),
        "{what} is missing on CI"
    );
    if !found {
        eprintln!("skipped: there is no {what} here");
    }
    found
}

/// Whether a tool is there.
pub fn has(tool: &str) -> bool {
    is_there(tool, Command::new(tool).arg("--version").output().is_ok())
}

/// What a command printed; it has to have succeeded.
pub fn succeeded(what: &str, output: &Output) -> String {
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    assert!(
        output.status.success(),
        "{what} failed ({}):\n{}{}",
        output.status,
        text(&output.stdout),
        text(&output.stderr)
    );
    text(&output.stdout)
}

/// The folder with the shared and the static library, built once.
pub fn libraries() -> &'static Path {
    static FOLDER: OnceLock<PathBuf> = OnceLock::new();
    FOLDER.get_or_init(|| {
        let target = scratch().parent().unwrap();
        let output = Command::new(env!("CARGO"))
            .current_dir(root())
            .args(["rustc", "--lib", "--features", "capi"])
            .args(["--crate-type", "cdylib,staticlib", "--target-dir"])
            .arg(target)
            .output()
            .unwrap();
        succeeded("building the libraries", &output);
        target.join("debug")
    })
}
