//! `paths`: the way of the water inside a thing: `in > pump > block > stat.hot`.

use std::ops::Range;

use super::each;
use crate::model::Path;
use crate::remark::{Code, Fault, Faulty};

/// Reads one path.
pub(crate) fn path(text: &str) -> Faulty<(Path, Vec<Range<usize>>)> {
    let stations = each(text, '>', "a station", |span| {
        let read = &text[span.clone()];
        let fits = |name: &str| {
            name.starts_with(char::is_alphabetic)
                && name
                    .chars()
                    .all(|c| c.is_alphanumeric() || c == '-' || c == '_')
        };
        if read.split('.').all(fits) && read.split('.').count() <= 2 {
            return Ok(read.to_owned());
        }
        let message = format!(
            "“{read}” is no station: one is a name, or a name and a port with a dot between"
        );
        Err(Fault::new(Code::BadForm, span, message).expecting("in > pump > block > head > stat"))
    })?;
    if stations.len() < 2 {
        let message = "a path leads from one station to another";
        let fault = Fault::new(Code::BadForm, 0..text.len(), message)
            .expecting("in > pump > block > head > stat");
        return Err(vec![fault]);
    }
    let (stations, spans) = stations.into_iter().unzip();
    Ok((Path { stations }, spans))
}
