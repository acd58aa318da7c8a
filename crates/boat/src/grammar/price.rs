//! A price: a number with its currency on either side: `2.40 EUR`, `€ 2.40`.

use std::ops::Range;

use crate::model::Price;
use crate::remark::{Code, Fault, Faulty};

const EXAMPLES: &str = "2.40 EUR or € 2.40";

/// Reads a price.
pub(crate) fn price(text: &str) -> Faulty<Price> {
    read(text).map_err(|fault| vec![fault.expecting(EXAMPLES)])
}

fn read(text: &str) -> Result<Price, Fault> {
    let trimmed = text.trim();
    let begin = text.len() - text.trim_start().len();
    let form = |span: Range<usize>, message: String| {
        Err(Fault::new(
            Code::BadForm,
            begin + span.start..begin + span.end,
            message,
        ))
    };
    let is_digit = |c: char| c.is_ascii_digit();
    let (Some(first), Some(last)) = (trimmed.find(is_digit), trimmed.rfind(is_digit)) else {
        return form(
            0..trimmed.len(),
            format!("“{trimmed}” is no price: a number is due, with its currency"),
        );
    };
    let before = &trimmed[..first];
    let (number, after) = (&trimmed[first..=last], &trimmed[last + 1..]);
    // A sign may stand before the currency too.
    if before.contains(['-', '−']) {
        let span = begin..begin + last + 1;
        return Err(Fault::new(
            Code::BadQuantity,
            span,
            format!("“{trimmed}” is no price: one is 0 or more"),
        ));
    }
    let (currency, at) = match (before.trim(), after.trim()) {
        ("", "") => {
            return form(
                first..last + 1,
                format!("“{trimmed}” has no currency: three capital letters, or €, £ or $"),
            );
        }
        ("", currency) => (currency, last + 1..trimmed.len()),
        (currency, "") => (currency, 0..first),
        _ => {
            return form(
                0..trimmed.len(),
                format!("“{trimmed}” is no price: the currency stands on one side of the number"),
            );
        }
    };
    let letters = currency.len() == 3 && currency.bytes().all(|b| b.is_ascii_uppercase());
    if !letters && !matches!(currency, "€" | "£" | "$") {
        return form(
            at,
            format!("“{currency}” is no currency: one is three capital letters, or €, £ or $"),
        );
    }
    let parts: Vec<&str> = number.split(['.', ',']).collect();
    let plain = parts.len() <= 2
        && parts
            .iter()
            .all(|part| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit()));
    if !plain {
        return form(
            first..last + 1,
            format!("“{number}” is no amount of money: digits are due, and one point at most"),
        );
    }
    // Where thousands are written with a comma, this would be a thousand times as much.
    if let [whole, part] = parts.as_slice()
        && number.contains(',')
        && part.len() == 3
    {
        return form(
            first..last + 1,
            format!("“{number}” can be read in two ways: {whole}{part}, or {whole}.{part}"),
        );
    }
    match number.replace(',', ".").parse::<f64>() {
        Ok(amount) if amount.is_finite() => Ok(Price {
            amount,
            currency: currency.to_owned(),
        }),
        _ => form(first..last + 1, format!("“{number}” is no amount of money")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_read_as_the_shop_writes_them() {
        let check = |text: &str, amount: f64, currency: &str| {
            let currency = currency.to_owned();
            assert_eq!(price(text), Ok(Price { amount, currency }), "{text}");
        };
        check("2.40 EUR", 2.4, "EUR");
        check("EUR 2.40", 2.4, "EUR");
        check(" € 2,40 ", 2.4, "€");
        check("£12", 12.0, "£");
        check("0 $", 0.0, "$");
        check("1200.00CHF", 1200.0, "CHF");
    }

    #[test]
    fn what_is_wrong_is_said_where_it_is() {
        let check = |text: &str, code, at: &str, message: &str| {
            let fault = &price(text).unwrap_err()[0];
            assert_eq!(
                (
                    fault.code,
                    &text[fault.span.clone()],
                    fault.message.as_str()
                ),
                (code, at, message),
                "{text}"
            );
        };
        check(
            "2.40",
            Code::BadForm,
            "2.40",
            "“2.40” has no currency: three capital letters, or €, £ or $",
        );
        check(
            "2.40 eur",
            Code::BadForm,
            " eur",
            "“eur” is no currency: one is three capital letters, or €, £ or $",
        );
        check(
            "dear",
            Code::BadForm,
            "dear",
            "“dear” is no price: a number is due, with its currency",
        );
        check(
            "€ -2.40",
            Code::BadQuantity,
            "€ -2.40",
            "“€ -2.40” is no price: one is 0 or more",
        );
        check(
            "€ 2.40 EUR",
            Code::BadForm,
            "€ 2.40 EUR",
            "“€ 2.40 EUR” is no price: the currency stands on one side of the number",
        );
        check(
            "1 200 EUR",
            Code::BadForm,
            "1 200",
            "“1 200” is no amount of money: digits are due, and one point at most",
        );
        check(
            "1,200 EUR",
            Code::BadForm,
            "1,200",
            "“1,200” can be read in two ways: 1200, or 1.200",
        );
    }
}
