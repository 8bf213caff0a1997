//! Tables of published figures under `tests/data/`, by the names of their columns.

use std::collections::HashMap;

pub type Row = HashMap<String, String>;

/// Every row of a table; lines that begin with # are its notes.
pub fn table(file: &str) -> Vec<Row> {
    let path = format!("{}/tests/data/{file}", env!("CARGO_MANIFEST_DIR"));
    csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(path)
        .unwrap()
        .deserialize()
        .map(Result::unwrap)
        .collect()
}

/// A figure, where one is printed.
#[allow(dead_code)] // not every test reads figures
pub fn number(row: &Row, column: &str) -> Option<f64> {
    Some(&row[column])
        .filter(|text| !text.is_empty())
        .map(|text| text.parse().unwrap())
}
