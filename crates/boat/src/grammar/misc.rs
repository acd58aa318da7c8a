//! `taper`: how much a thread's diameter changes over how much of its length.

use quantity::{Length, Quantity, Reading, Unit};

use crate::remark::{Code, Fault, Faulty};

/// Reads `0.5 mm over 8 mm`; `bare` is the unit of a bare length.
pub(crate) fn taper(
    text: &str,
    bare: Option<&'static Unit>,
) -> Faulty<(Reading<Length>, Reading<Length>)> {
    let example = "0.5 over 8";
    let Some(at) = text.find(" over ") else {
        let message = format!("“{text}” is no taper: it says how much over what length");
        return Err(vec![
            Fault::new(Code::BadForm, 0..text.len(), message).expecting(example),
        ]);
    };
    let along = at + " over ".len();
    let read = |part: &str, begin: usize| {
        quantity::parse_reading::<Length>(part, bare)
            .map_err(|error| Fault::from(error).moved(begin))
    };
    match (read(&text[..at], 0), read(&text[along..], along)) {
        (Ok(change), Ok(length)) if length.value.si() > 0.0 => Ok((change, length)),
        (Ok(_), Ok(_)) => {
            let message = "the length of a taper is over 0";
            Err(vec![Fault::new(
                Code::BadQuantity,
                along..text.len(),
                message,
            )])
        }
        (change, length) => Err([change.err(), length.err()].into_iter().flatten().collect()),
    }
}
