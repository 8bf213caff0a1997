//! Reads chemical equations such as `Fe+3 + 2 H2O = Fe(OH)2+ + 2 H+`.

use super::EquilibriumError;

/// Terms of one side: coefficient and name.
type Side<'a> = Vec<(f64, &'a str)>;

/// Both sides of an equation.
pub(super) struct Equation<'a> {
    pub left: Side<'a>,
    pub right: Side<'a>,
}

impl<'a> Equation<'a> {
    /// Terms are parted by ` + `, the sides by ` = `; a number before a name
    /// is its coefficient. A sign without blanks around it belongs to a name.
    pub(super) fn parse(text: &'a str) -> Result<Equation<'a>, EquilibriumError> {
        let (left, right) = text
            .split_once(" = ")
            .ok_or_else(|| unreadable(text, "has no \" = \" between its sides"))?;
        Ok(Equation {
            left: side(text, left)?,
            right: side(text, right)?,
        })
    }
}

pub(super) fn unreadable(equation: &str, why: &str) -> EquilibriumError {
    EquilibriumError::Equation {
        equation: equation.into(),
        why: why.into(),
    }
}

fn side<'a>(whole: &str, text: &'a str) -> Result<Side<'a>, EquilibriumError> {
    text.split(" + ").map(|t| term(whole, t.trim())).collect()
}

fn term<'a>(whole: &str, text: &'a str) -> Result<(f64, &'a str), EquilibriumError> {
    let (coefficient, name) = match text.split_once(' ') {
        Some((number, name)) => match number.parse::<f64>() {
            Ok(c) if c > 0.0 && c <= 100.0 => (c, name.trim()),
            _ => return Err(unreadable(whole, "has a coefficient outside 0 to 100")),
        },
        None => (1.0, text),
    };
    if name.is_empty() || name.contains(char::is_whitespace) {
        return Err(unreadable(whole, "has a term without a name"));
    }
    Ok((coefficient, name))
}

/// The charge at the end of a name: `+`, `-2` and so on; 0 without a sign.
pub(super) fn charge(name: &str) -> i32 {
    let body = name.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = name.strip_prefix(body).unwrap_or_default();
    let size = if digits.is_empty() {
        Ok(1)
    } else {
        digits.parse::<i32>()
    };
    match (body.chars().last(), size) {
        (Some('+'), Ok(n)) => n,
        (Some('-'), Ok(n)) => -n,
        _ => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_terms_and_charges() -> Result<(), EquilibriumError> {
        let e = Equation::parse("Fe8O8 + 20.8 H+ = 8 Fe+3 + 1.6 SO4-2 + 12.8 H2O")?;
        assert_eq!(e.left, [(1.0, "Fe8O8"), (20.8, "H+")]);
        assert_eq!(e.right, [(8.0, "Fe+3"), (1.6, "SO4-2"), (12.8, "H2O")]);
        for (name, z) in [
            ("Fe+3", 3),
            ("SO4-2", -2),
            ("H+", 1),
            ("OH-", -1),
            ("H4Gal", 0),
            ("Fe2(OH)2+4", 4),
        ] {
            assert_eq!(charge(name), z, "{name}");
        }
        for bad in [
            "Fe+2",
            "= Fe+2",
            "x Fe+2 = FeS",
            "-1 H+ = H",
            "Fe+2 + = FeS",
            "NaN H+ = H",
            "1e9 H+ = H",
        ] {
            assert!(Equation::parse(bad).is_err(), "{bad}");
        }
        Ok(())
    }
}
