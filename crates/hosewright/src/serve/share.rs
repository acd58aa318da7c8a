//! The page on the boat's own network: on request only, by a key that stands in the code to scan.

use std::collections::BTreeMap;
use std::net::{IpAddr, SocketAddr, UdpSocket};

use qrcode::{Color, EcLevel, QrCode};

use super::App;
use super::answers::lock;
use super::clock;
use super::keys::Key;
use super::refused::Refused;
use crate::api::{Device, Share};

/// Devices that are told apart at most.
const DEVICES: usize = 50;

/// How the page is shared in this run.
#[derive(Debug)]
pub(crate) struct Sharing {
    /// Whether it still is.
    pub(crate) on: bool,
    /// The key that lets a phone in.
    pub(crate) key: Key,
    /// The address of this computer on the boat's network.
    address: IpAddr,
    devices: BTreeMap<IpAddr, Seen>,
    /// When this desk last asked.
    desk: String,
}

#[derive(Clone, Debug)]
struct Seen {
    number: usize,
    at: String,
    kept: usize,
}

impl Sharing {
    pub(crate) fn of(address: IpAddr, key: Key) -> Self {
        Self {
            on: true,
            key,
            address,
            devices: BTreeMap::new(),
            desk: clock::now(),
        }
    }

    fn seen(&mut self, from: IpAddr) -> Option<&mut Seen> {
        let number = self.devices.len() + 1;
        if number > DEVICES && !self.devices.contains_key(&from) {
            return None;
        }
        let seen = self.devices.entry(from).or_insert_with(|| Seen {
            number,
            at: String::new(),
            kept: 0,
        });
        seen.at = clock::now();
        Some(seen)
    }
}

/// The address of this computer on the network that it is on. Nothing is sent: a socket that is only told where it
/// would send knows from which address.
pub(crate) fn own_address() -> Option<IpAddr> {
    // Addresses kept for documents by RFC 5737; nobody is there.
    let nobody: SocketAddr = ([192, 0, 2, 1], 9).into();
    let socket = UdpSocket::bind("0.0.0.0:0").ok()?;
    socket.connect(nobody).ok()?;
    let own = socket.local_addr().ok()?.ip();
    (!own.is_unspecified() && !own.is_loopback()).then_some(own)
}

impl App {
    /// How it is shared; the code only for this computer, since it holds the key.
    pub(crate) fn share(&self, desk: bool) -> Result<Share, Refused> {
        let sharing = lock(&self.sharing);
        let Some(sharing) = sharing.as_ref().filter(|sharing| sharing.on) else {
            return Ok(Share {
                on: false,
                address: None,
                qr: None,
                devices: Vec::new(),
            });
        };
        let address = format!("http://{}", SocketAddr::new(sharing.address, self.port));
        let qr = match desk {
            true => Some(code(&format!("{address}/#k={}", sharing.key.told()))?),
            false => None,
        };
        let mut devices = vec![Device {
            name: "this desk".to_owned(),
            at: sharing.desk.clone(),
            kept: 0,
        }];
        let mut seen: Vec<&Seen> = sharing.devices.values().collect();
        seen.sort_by_key(|seen| seen.number);
        devices.extend(seen.into_iter().map(|seen| Device {
            name: format!("phone {}", seen.number),
            at: seen.at.clone(),
            kept: seen.kept,
        }));
        Ok(Share {
            on: true,
            address: Some(address),
            qr,
            devices: if desk { devices } else { Vec::new() },
        })
    }

    /// A new key; the old one opens nothing any more.
    pub(crate) fn new_key(&self) -> Result<(), Refused> {
        let key = Key::fresh().map_err(|_| Refused::defect())?;
        match lock(&self.sharing).as_mut() {
            Some(sharing) => {
                sharing.key = key;
                sharing.devices.clear();
                Ok(())
            }
            None => Err(Refused::conflict(
                "Sharing is off. Stop Hosewright and start it with --share.",
            )),
        }
    }

    /// Nobody but this computer is answered any more.
    pub(crate) fn end_sharing(&self) {
        if let Some(sharing) = lock(&self.sharing).as_mut() {
            sharing.on = false;
            sharing.devices.clear();
        }
    }

    /// Ends the lines of news to phones: whoever still has the right key opens another.
    pub(crate) fn hang_up(&self) {
        self.hung_up.send_modify(|count| *count += 1);
    }

    /// The address with its key, as the code to scan has it; none while sharing is off.
    pub fn scanned(&self) -> Option<String> {
        let sharing = lock(&self.sharing);
        let sharing = sharing.as_ref().filter(|sharing| sharing.on)?;
        let address = SocketAddr::new(sharing.address, self.port);
        Some(format!("http://{address}/#k={}", sharing.key.told()))
    }

    /// Whether the page is shared.
    pub(crate) fn is_shared(&self) -> bool {
        lock(&self.sharing)
            .as_ref()
            .is_some_and(|sharing| sharing.on)
    }

    /// Whether a key is that of the phones.
    pub(crate) fn is_phone_key(&self, given: &str) -> bool {
        let sharing = lock(&self.sharing);
        let sharing = sharing.as_ref().filter(|sharing| sharing.on);
        sharing.is_some_and(|sharing| sharing.key.is(given))
    }

    /// Notes that somebody asked.
    pub(crate) fn note(&self, from: IpAddr, desk: bool) {
        if let Some(sharing) = lock(&self.sharing).as_mut() {
            if desk {
                sharing.desk = clock::now();
            } else {
                sharing.seen(from);
            }
        }
    }

    /// What a device is called.
    pub(crate) fn device(&self, from: IpAddr) -> String {
        let sharing = lock(&self.sharing);
        let seen = sharing
            .as_ref()
            .and_then(|sharing| sharing.devices.get(&from));
        seen.map_or_else(
            || "a phone".to_owned(),
            |seen| format!("phone {}", seen.number),
        )
    }

    /// Counts the entries of a device that were kept.
    pub(crate) fn kept_from(&self, from: IpAddr, count: usize) {
        if let Some(sharing) = lock(&self.sharing).as_mut()
            && let Some(seen) = sharing.seen(from)
        {
            seen.kept += count;
        }
    }
}

/// The modules of a code, row by row; true is dark.
fn code(text: &str) -> Result<Vec<Vec<bool>>, Refused> {
    let code =
        QrCode::with_error_correction_level(text, EcLevel::M).map_err(|_| Refused::defect())?;
    let colors = code.to_colors();
    let rows = colors.chunks(code.width().max(1));
    Ok(rows
        .map(|row| row.iter().map(|module| *module == Color::Dark).collect())
        .collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_square_and_has_its_corners() {
        let rows = code("http://192.168.1.20:4177/#k=0123456789abcdef0123456789abcdef").unwrap();
        // Version 4 has 33 modules a side.
        assert_eq!(rows.len(), 33);
        assert!(rows.iter().all(|row| row.len() == rows.len()));
        let last = rows.len() - 1;
        assert!(rows[0][0] && rows[0][last] && rows[last][0]);
    }
}
