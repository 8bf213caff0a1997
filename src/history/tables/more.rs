//! Units that stand in the notes of other rows: of a livre usuelle in a
//! recipe of the nineteenth century, of the Schoppen beside the Rhenish one, of
//! the Lot where no row tells that of the land.

use crate::history::place::Place::{
    Bavaria, France, Hanover, Hesse, Nuremberg, Prussia, Rhineland, Saxony, Wuerttemberg,
};
use crate::history::unit::{OPEN, System, Unit, UnitKind, Y, used};
use crate::source::{Source, Status};

const USUELLE: Source = Source::new(
    "note to a recipe of the Carmel of Lisieux: livre usuelle of 500 g, 1812 to 1840",
    Status::Secondary,
);

const SCHOPPEN: Source = Source::new(
    "table of old measures (gaseddy.pages.dev pfund-masseinheit, from de.wikipedia Alte Maße)",
    Status::Secondary,
);

pub(crate) const ROWS: &[Unit] = &[
    Unit {
        id: "fr_livre_usuelle",
        name: "livre usuelle (half a kilogram)",
        system: System::French,
        kind: UnitKind::Mass,
        metric_value: 500.0,
        used: &[used(France, Y(1812), Y(1840))],
        validity: "1812 to 1840",
        relative_u: 0.001,
        note: "the old name on a metric weight: 2 % more than the livre poids de marc",
        source: USUELLE,
    },
    Unit {
        id: "fr_once_usuelle",
        name: "once usuelle (1/16 livre usuelle)",
        system: System::French,
        kind: UnitKind::Mass,
        metric_value: 500.0 / 16.0,
        used: &[used(France, Y(1812), Y(1840))],
        validity: "1812 to 1840",
        relative_u: 0.001,
        note: "a sixteenth of the livre usuelle, by computation",
        source: Source::new("computed: 500 g / 16", Status::Computed),
    },
    Unit {
        id: "de_lot_any",
        name: "Lot of a German land without a row of its own",
        system: System::German,
        kind: UnitKind::Mass,
        metric_value: 16.0,
        used: &[
            used(Bavaria, Y(1501), Y(1810)),
            used(Nuremberg, Y(1501), Y(1810)),
            used(Saxony, Y(1501), Y(1871)),
            used(Hanover, Y(1501), Y(1871)),
            used(Hesse, Y(1501), Y(1871)),
            used(Prussia, Y(1858), Y(1871)),
            used(Rhineland, Y(1858), Y(1871)),
        ],
        validity: "16th c. to 1871 (a judgement)",
        relative_u: 0.125,
        note: "the middle of 14 to 18 g, the range of the Lot in German lands",
        source: Source::new(
            "note to the Lot of Cologne, from memory",
            Status::FromMemory,
        ),
    },
    Unit {
        id: "de_schoppen_wue",
        name: "Schoppen, Württemberg",
        system: System::German,
        kind: UnitKind::Volume,
        metric_value: 459.0,
        used: &[used(Wuerttemberg, OPEN, Y(1871))],
        validity: "? to 1871 (a judgement)",
        relative_u: 0.01,
        note: "",
        source: SCHOPPEN,
    },
    Unit {
        id: "de_schoppen_hesse",
        name: "Schoppen, Hesse",
        system: System::German,
        kind: UnitKind::Volume,
        metric_value: 400.0,
        used: &[used(Hesse, OPEN, Y(1871))],
        validity: "? to 1871 (a judgement)",
        relative_u: 0.05,
        note: "",
        source: SCHOPPEN,
    },
];
