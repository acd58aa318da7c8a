//! Three numbers or lengths in brackets: points and directions of the bay.

use std::ops::Range;

use toml::de::DeArray;

use super::Walk;
use crate::keys::{Form, KeyRow};
use crate::model::{BayPoint, Heading, ScanPlace};
use crate::remark::Code;
use crate::value::{Datum, Said};

impl Walk<'_> {
    /// Three numbers or lengths in brackets.
    pub(super) fn triple(
        &mut self,
        form: &Form,
        row: Option<&'static KeyRow>,
        array: &DeArray,
        span: Range<usize>,
        path: &str,
    ) -> Said {
        let lengths = matches!(form, Form::Point | Form::Spotted);
        if array.len() != 3 {
            let due = if lengths { "lengths" } else { "numbers" };
            let message = format!(
                "{} in these brackets; three {due} are due: along x, along y and upward",
                match array.len() {
                    0 => "nothing stands".to_owned(),
                    1 => "1 value stands".to_owned(),
                    count => format!("{count} values stand"),
                }
            );
            let expected = if lengths {
                "[520, -65, 330]"
            } else {
                "[1, 0, 0.36]"
            };
            self.remark(
                Code::BadForm,
                span,
                path,
                message,
                Some(expected.to_owned()),
            );
            return Said::Unreadable;
        }
        const NUMBER: Form = Form::Number(-1e9, 1e9);
        let part_form = if lengths { &Form::Height } else { &NUMBER };
        let parts: Vec<Datum> = array
            .iter()
            .enumerate()
            .filter_map(|(i, value)| {
                let place = format!("{path}[{i}]");
                self.places.put_value(&place, value.span());
                self.datum(part_form, row, value, &place)
            })
            .collect();
        let said = match parts.as_slice() {
            [Datum::Length(x), Datum::Length(y), Datum::Length(z)] => {
                let point = BayPoint {
                    x: *x,
                    y: *y,
                    z: *z,
                };
                match form {
                    Form::Spotted => Datum::Spotted(ScanPlace::At(point)),
                    _ => Datum::Point(point),
                }
            }
            [Datum::Number(x), Datum::Number(y), Datum::Number(z)] => match form {
                Form::Heading if [*x, *y, *z] == [0.0; 3] => {
                    let message = "nought along x, y and z points nowhere";
                    self.remark(Code::BadQuantity, span, path, message, None);
                    return Said::Unreadable;
                }
                Form::Heading => Datum::Heading(Heading::Along([*x, *y, *z])),
                _ => Datum::Triple([*x, *y, *z]),
            },
            // What can't be read has a remark.
            _ => return Said::Unreadable,
        };
        Said::One(said)
    }
}
