//! Reads the texts of a PDF's pages back, the way a reader's search does: by the table that each
//! font brings of what its signs stand for. It knows as much of PDF as our own files need.

use std::collections::BTreeMap;
use std::io::Read as _;

/// An object: what stands before its stream, and the stream unpacked.
#[derive(Debug, Default)]
struct Object {
    words: String,
    stream: Vec<u8>,
}

/// The texts of each page, in order; one text a time that signs are shown.
pub(crate) fn pages(pdf: &[u8]) -> Vec<Vec<String>> {
    let objects = objects(pdf);
    let mut pages = Vec::new();
    let root = objects
        .values()
        .find(|object| object.words.contains("/Type/Catalog"));
    let tree = reference(&root.expect("a catalogue").words, "/Pages").expect("pages");
    walk(tree, &objects, &mut pages);
    pages
}

/// Follows the tree of pages.
fn walk(at: usize, objects: &BTreeMap<usize, Object>, pages: &mut Vec<Vec<String>>) {
    let words = &objects[&at].words;
    if let Some((_, kids)) = words.split_once("/Kids") {
        let kids = kids.split(['[', ']']).nth(1).expect("a list of pages");
        let numbers: Vec<&str> = kids.split_whitespace().collect();
        for kid in numbers.chunks(3) {
            walk(kid[0].parse().expect("a number"), objects, pages);
        }
        return;
    }
    let contents = reference(words, "/Contents").expect("a page with contents");
    let resources = match reference(words, "/Resources") {
        Some(at) => &objects[&at].words,
        None => words,
    };
    let fonts = match reference(resources, "/Font") {
        Some(at) => objects[&at].words.clone(),
        None => resources
            .split_once("/Font")
            .map_or("", |(_, fonts)| fonts)
            .to_owned(),
    };
    pages.push(shown(&objects[&contents].stream, |name| {
        let font = reference(&fonts, &format!("/{name}")).expect("a font of the page");
        let table = reference(&objects[&font].words, "/ToUnicode").expect("what its signs mean");
        meanings(&String::from_utf8_lossy(&objects[&table].stream))
    }))
}

/// The object that a key refers to.
fn reference(words: &str, key: &str) -> Option<usize> {
    words.match_indices(key).find_map(|(at, _)| {
        let mut rest = words[at + key.len()..].split_whitespace();
        let number = rest.next()?.parse().ok()?;
        (rest.next()? == "0" && rest.next()?.starts_with('R')).then_some(number)
    })
}

fn objects(pdf: &[u8]) -> BTreeMap<usize, Object> {
    let mut objects = BTreeMap::new();
    let mut at = 0;
    while let Some(found) = find(&pdf[at..], b" 0 obj\n") {
        let digits = pdf[..at + found]
            .iter()
            .rev()
            .take_while(|b| b.is_ascii_digit())
            .count();
        let number = &pdf[at + found - digits..at + found];
        let number = String::from_utf8_lossy(number)
            .parse()
            .expect("the number of an object");
        let start = at + found + 7;
        let end = start + find(&pdf[start..], b"endobj").expect("the end of an object");
        let mut object = Object::default();
        let body = &pdf[start..end];
        let head = find(body, b"stream\n").unwrap_or(body.len());
        object.words = String::from_utf8_lossy(&body[..head]).replace('\n', " ");
        at = end;
        if head < body.len() {
            let long = object
                .words
                .split_once("/Length ")
                .expect("the length of a stream")
                .1;
            let long: usize = long
                .chars()
                .take_while(char::is_ascii_digit)
                .collect::<String>()
                .parse()
                .expect("a length");
            let packed = &pdf[start + head + 7..start + head + 7 + long];
            if object.words.contains("/FlateDecode") {
                flate2::read::ZlibDecoder::new(packed)
                    .read_to_end(&mut object.stream)
                    .expect("a stream that unpacks");
            } else {
                object.stream = packed.to_vec();
            }
            at = start + head + 7 + long;
        }
        objects.insert(number, object);
    }
    objects
}

fn find(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).position(|part| part == wanted)
}

/// What each sign of a font stands for.
fn meanings(table: &str) -> BTreeMap<u16, String> {
    let code = |hex: &str| u16::from_str_radix(hex.trim_matches(['<', '>']), 16).expect("a code");
    let text = |hex: &str| {
        let hex = hex.trim_matches(['<', '>']);
        let units: Vec<u16> = (0..hex.len() / 4)
            .map(|n| code(&hex[4 * n..4 * n + 4]))
            .collect();
        String::from_utf16(&units).expect("a text")
    };
    let mut meanings = BTreeMap::new();
    for (kind, part) in ["bfchar", "bfrange"].into_iter().flat_map(|kind| {
        let begin = format!("begin{kind}");
        let parts: Vec<String> = table
            .split(begin.as_str())
            .skip(1)
            .map(|part| part.split("end").next().unwrap_or_default().to_owned())
            .collect();
        parts.into_iter().map(move |part| (kind, part))
    }) {
        let words: Vec<&str> = part.split_whitespace().collect();
        if kind == "bfchar" {
            for pair in words.chunks_exact(2) {
                meanings.insert(code(pair[0]), text(pair[1]));
            }
        } else {
            for three in words.chunks_exact(3) {
                let first = text(three[2]).chars().next().expect("a sign");
                for (n, sign) in (code(three[0])..=code(three[1])).zip(first..) {
                    meanings.insert(n, sign.to_string());
                }
            }
        }
    }
    meanings
}

/// The texts that a page's contents show.
fn shown(contents: &[u8], font: impl Fn(&str) -> BTreeMap<u16, String>) -> Vec<String> {
    let mut texts = Vec::new();
    let mut signs: BTreeMap<u16, String> = BTreeMap::new();
    let mut codes: Vec<u8> = Vec::new();
    let mut last_name = String::new();
    let mut at = 0;
    while at < contents.len() {
        match contents[at] {
            b'(' => at = literal(contents, at + 1, &mut codes),
            b'<' if contents.get(at + 1) != Some(&b'<') => {
                let end = at + find(&contents[at..], b">").expect("the end of a text");
                for pair in contents[at + 1..end].chunks(2) {
                    let pair = String::from_utf8_lossy(pair);
                    codes.push(u8::from_str_radix(&pair, 16).expect("a byte"));
                }
                at = end + 1;
            }
            sign if sign.is_ascii_alphabetic() || sign == b'/' => {
                let long = contents[at + 1..]
                    .iter()
                    .take_while(|b| b.is_ascii_alphanumeric() || matches!(b, b'*' | b'-' | b'_'))
                    .count();
                let word = String::from_utf8_lossy(&contents[at..=at + long]).into_owned();
                at += long + 1;
                match word.as_str() {
                    "Tf" => signs = font(&last_name),
                    "Tj" | "TJ" => {
                        let text = codes
                            .chunks_exact(2)
                            .map(|pair| signs[&u16::from_be_bytes([pair[0], pair[1]])].as_str())
                            .collect();
                        texts.push(text);
                        codes.clear();
                    }
                    _ => {}
                }
                if let Some(name) = word.strip_prefix('/') {
                    name.clone_into(&mut last_name);
                }
            }
            _ => at += 1,
        }
    }
    texts
}

/// The bytes of a text in brackets; gives where it ends.
fn literal(contents: &[u8], mut at: usize, codes: &mut Vec<u8>) -> usize {
    let mut depth = 0;
    loop {
        let sign = contents[at];
        at += 1;
        match sign {
            b')' if depth == 0 => return at,
            b'\\' => {
                let next = contents[at];
                at += 1;
                codes.push(match next {
                    b'n' => b'\n',
                    b'r' => b'\r',
                    b't' => b'\t',
                    b'b' => 8,
                    b'f' => 12,
                    b'0'..=b'7' => {
                        let digits = [next, contents[at], contents[at + 1]];
                        at += 2;
                        digits.iter().fold(0, |sum, digit| sum * 8 + (digit - b'0'))
                    }
                    other => other,
                });
            }
            _ => {
                match sign {
                    b'(' => depth += 1,
                    b')' => depth -= 1,
                    _ => {}
                }
                codes.push(sign);
            }
        }
    }
}
