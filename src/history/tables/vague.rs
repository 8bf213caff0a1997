//! Measures of no one place, and times.

use crate::history::place::Place::{Anywhere, England, Italy, UnitedStates};
use crate::history::unit::{OPEN, System, Unit, UnitKind, Y, used};
use crate::source::{Source, Status};

pub(crate) const ROWS: &[Unit] = &[
    Unit {
        id: "drop",
        name: "drop (gutta), aqueous",
        system: System::Vague,
        kind: UnitKind::Volume,
        metric_value: 0.05,
        used: &[used(Anywhere, OPEN, OPEN)],
        validity: "any time",
        relative_u: 0.5,
        note: "0.03-0.1 mL; do not equate with minim",
        source: Source::new("from memory", Status::ExpertGuess),
    },
    Unit {
        id: "wineglass",
        name: "wineglassful",
        system: System::Vague,
        kind: UnitKind::Volume,
        metric_value: 60.0,
        used: &[
            used(England, Y(1801), Y(2000)),
            used(UnitedStates, Y(1801), Y(2000)),
        ],
        validity: "19th c. to 20th c.",
        relative_u: 0.2,
        note: "2 to 2.5 fl oz",
        source: Source::new("from memory", Status::FromMemory),
    },
    Unit {
        id: "spoon",
        name: "table-spoonful",
        system: System::Vague,
        kind: UnitKind::Volume,
        metric_value: 15.0,
        used: &[
            used(England, Y(1701), Y(2000)),
            used(UnitedStates, Y(1701), Y(2000)),
        ],
        validity: "18th c. to 20th c.",
        relative_u: 0.25,
        note: "",
        source: Source::new("from memory", Status::FromMemory),
    },
    Unit {
        id: "t_miserere",
        name: "Miserere (time to recite)",
        system: System::Time,
        kind: UnitKind::Time,
        metric_value: 200.0,
        used: &[used(Italy, Y(1501), Y(1800))],
        validity: "16th c. to 18th c.",
        relative_u: 0.3,
        note: "",
        source: Source::new(
            "asravenna.beniculturali.it: about 3 min; 6 recitations about 20 min",
            Status::Secondary,
        ),
    },
    Unit {
        id: "t_day",
        name: "day (steeping), natural day",
        system: System::Time,
        kind: UnitKind::Time,
        metric_value: 86_400.0,
        used: &[used(Anywhere, OPEN, OPEN)],
        validity: "any time",
        relative_u: 0.0,
        note: "",
        source: Source::new("definition of the day", Status::Computed),
    },
];
