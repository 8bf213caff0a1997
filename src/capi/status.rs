//! Status codes and their texts: one list.

use core::ffi::c_char;

/// What a function answers: FGALL_OK, or why not. Codes are never reused.
pub type FgallStatus = u32;

/// Makes each constant and its text from the same line.
macro_rules! status_codes {
    ($(#[doc = $text:literal] pub const $name:ident: u32 = $code:literal;)*) => {
        $(#[doc = $text] pub const $name: u32 = $code;)*
        const TEXTS: &[(FgallStatus, &str)] = &[$(($code, concat!($text, "\0"))),*];
    };
}

status_codes! {
    /// Done.
    pub const FGALL_OK: u32 = 0;
    /// A pointer that must not be NULL is.
    pub const FGALL_NULL_POINTER: u32 = 1;
    /// A pointer is not aligned for its type.
    pub const FGALL_MISALIGNED: u32 = 2;
    /// A text is not UTF-8.
    pub const FGALL_NOT_UTF8: u32 = 3;
    /// The struct_size of a struct is not that of this library.
    pub const FGALL_STRUCT_SIZE: u32 = 4;
    /// A number is none of the constants allowed here.
    pub const FGALL_FOREIGN_VALUE: u32 = 5;
    /// The buffer is too small; *needed says how large it must be.
    pub const FGALL_BUFFER_TOO_SMALL: u32 = 6;
    /// An index is not below the count.
    pub const FGALL_NO_SUCH_INDEX: u32 = 7;
    /// Nothing has this name or identifier.
    pub const FGALL_UNKNOWN_NAME: u32 = 8;
    /// A number is outside its range.
    pub const FGALL_OUT_OF_RANGE: u32 = 9;
    /// A number is NaN.
    pub const FGALL_INPUT_NAN: u32 = 10;
    /// There is nothing in it.
    pub const FGALL_EMPTY: u32 = 11;
    /// The ingredients exceed the volume to make up to.
    pub const FGALL_TOO_MUCH_FOR_VOLUME: u32 = 12;
    /// A setting says nothing about this kind of material.
    pub const FGALL_DOES_NOT_APPLY: u32 = 13;
    /// Parts add up to more than the whole.
    pub const FGALL_MORE_THAN_WHOLE: u32 = 14;
    /// A lot is measured by volume but its density is not known.
    pub const FGALL_NO_DENSITY: u32 = 15;
    /// Parts are used, but the mass of one part is not known.
    pub const FGALL_NO_PART_MASS: u32 = 16;
    /// Plant matter must be extracted.
    pub const FGALL_NEEDS_EXTRACTION: u32 = 17;
    /// Only plant matter is extracted.
    pub const FGALL_NOT_A_PLANT: u32 = 18;
    /// More of a solution is used than was made.
    pub const FGALL_NOT_ENOUGH_STOCK: u32 = 19;
    /// More lots than a column plan holds.
    pub const FGALL_TOO_MANY_COLUMNS: u32 = 20;
    /// A text is no chemical formula.
    pub const FGALL_BAD_FORMULA: u32 = 21;
    /// No density is known for this strength or temperature.
    pub const FGALL_NOT_COVERED: u32 = 22;
    /// Density does not tell the strength here.
    pub const FGALL_NOT_INVERTIBLE: u32 = 23;
    /// A target is set, but no lot was chosen for it.
    pub const FGALL_NO_LOT_FOR_TARGET: u32 = 24;
    /// A lot was chosen, but no target is set for it.
    pub const FGALL_NO_TARGET_FOR_LOT: u32 = 25;
    /// The chosen lots cannot meet the targets.
    pub const FGALL_UNDETERMINED: u32 = 26;
    /// Meeting the targets would take less than nothing of a lot.
    pub const FGALL_LESS_THAN_NOTHING: u32 = 27;
    /// A lot holds none of what is to be kept equal.
    pub const FGALL_NOTHING_TO_MATCH: u32 = 28;
    /// No solution was begun in the recipe.
    pub const FGALL_NO_SOLUTION: u32 = 29;
    /// A text is not the JSON that is wanted here.
    pub const FGALL_BAD_JSON: u32 = 30;
    /// Of two settings only one may be given.
    pub const FGALL_EITHER_OR: u32 = 31;
    /// A solid where something must be poured.
    pub const FGALL_NOT_A_LIQUID: u32 = 32;
    /// More ingredients than a recipe may have.
    pub const FGALL_TOO_MANY_INGREDIENTS: u32 = 33;
    /// No equilibrium was found.
    pub const FGALL_NOT_SOLVED: u32 = 34;
    /// No amount leads to this pH.
    pub const FGALL_UNREACHABLE: u32 = 35;
    /// Hardly any water to dissolve anything.
    pub const FGALL_NO_WATER: u32 = 36;
    /// A text is no reaction that can be taken.
    pub const FGALL_BAD_EQUATION: u32 = 37;
    /// More species can form than are solved for.
    pub const FGALL_TOO_MANY_SPECIES: u32 = 38;
    /// An event or a time is earlier than the one before it.
    pub const FGALL_OUT_OF_ORDER: u32 = 39;
    /// The course of a bottle could not be followed to its end.
    pub const FGALL_NOT_FOLLOWED: u32 = 40;
    /// The ink has no such figure where its sources are typical, or next to it.
    pub const FGALL_NO_VALUE: u32 = 41;
    /// None of the draws gave a number.
    pub const FGALL_ALL_DRAWS_FAILED: u32 = 42;
    /// No amount of a lot makes it as sure as that.
    pub const FGALL_NOT_ASSURED: u32 = 43;
    /// Two things would have the same name.
    pub const FGALL_NAME_TAKEN: u32 = 44;
    /// No time and no amount of water is enough.
    pub const FGALL_NEVER_REACHED: u32 = 45;
    /// More than one soak: take its liquor as a lot.
    pub const FGALL_MORE_THAN_A_SOAK: u32 = 46;
    /// No curve and no line fits the measurements.
    pub const FGALL_CANNOT_FIT: u32 = 47;
    /// The method says nothing true about this kind of sample.
    pub const FGALL_NOT_FOR_SAMPLE: u32 = 48;
    /// Two results that cannot both be true.
    pub const FGALL_CONTRADICTION: u32 = 49;
    /// This figure is not linear in the amounts: least squares cannot aim at it.
    pub const FGALL_NOT_LINEAR: u32 = 50;
    /// Nothing limits how much can be made.
    pub const FGALL_NOTHING_LIMITS: u32 = 51;
    /// No amounts keep all the limits.
    pub const FGALL_INFEASIBLE: u32 = 52;
    /// The search for the best amounts came to nothing.
    pub const FGALL_NO_OPTIMUM: u32 = 53;
    /// A text is no amount in units.
    pub const FGALL_BAD_AMOUNT: u32 = 57;
    /// A fault in the library itself; please report it.
    pub const FGALL_PANIC: u32 = 99;
}

/// The text of a status, in English. Static: do not free it. A code that is
/// no status has a text too.
#[unsafe(no_mangle)]
pub extern "C" fn fgall_status_text(status: u32) -> *const c_char {
    let known = TEXTS.iter().find(|(code, _)| *code == status);
    let text = known.map_or("no such status\0", |(_, text)| text.trim_start());
    text.as_ptr().cast()
}
