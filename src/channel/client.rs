//! Who asks: an address, as whoever limits clients counts them, and which proxies are believed about it.

use std::net::{IpAddr, Ipv4Addr, Ipv6Addr};
use std::str::FromStr;

use axum::http::HeaderMap;

/// A client: an IPv4 address, or the /64 of an IPv6 one, which one household or one server has to itself.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Client([u8; 8]);

impl Client {
    /// The client at an address.
    pub fn of(address: IpAddr) -> Self {
        match address.to_canonical() {
            IpAddr::V4(address) => {
                let [a, b, c, d] = address.octets();
                Self([0, 0, 0, 0, a, b, c, d])
            }
            IpAddr::V6(address) => Self(address.octets().first_chunk().copied().unwrap_or_default()),
        }
    }
}

/// Addresses that begin with the same bits: `10.0.0.0/8`, or one address.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Network {
    first: IpAddr,
    bits: u32,
}

impl Network {
    const LOOPBACK: [Self; 2] = [
        Self { first: IpAddr::V4(Ipv4Addr::new(127, 0, 0, 0)), bits: 8 },
        Self { first: IpAddr::V6(Ipv6Addr::LOCALHOST), bits: 128 },
    ];

    fn holds(&self, address: IpAddr) -> bool {
        match (self.first, address.to_canonical()) {
            (IpAddr::V4(first), IpAddr::V4(address)) => {
                let over = 32_u32.saturating_sub(self.bits);
                (first.to_bits() ^ address.to_bits()).checked_shr(over).unwrap_or(0) == 0
            }
            (IpAddr::V6(first), IpAddr::V6(address)) => {
                let over = 128_u32.saturating_sub(self.bits);
                (first.to_bits() ^ address.to_bits()).checked_shr(over).unwrap_or(0) == 0
            }
            _ => false,
        }
    }
}

impl FromStr for Network {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let wrong = || format!("{text} is no address such as 10.0.0.2, and no network such as 10.0.0.0/8");
        let (address, bits) = text.split_once('/').map_or((text, None), |(a, b)| (a, Some(b)));
        let first: IpAddr = address.parse().map_err(|_| wrong())?;
        let most = if first.is_ipv4() { 32 } else { 128 };
        let bits = bits.map_or(Ok(most), str::parse).map_err(|_| wrong())?;
        if bits <= most { Ok(Self { first, bits }) } else { Err(wrong()) }
    }
}

/// The proxies whose word is taken on where a request comes from: those on this machine, and those named.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Proxies(Vec<Network>);

impl Proxies {
    /// These, beside those on this machine.
    pub fn new(named: Vec<Network>) -> Self {
        Self(named)
    }

    /// Whether an address is one of them.
    pub fn trusts(&self, address: IpAddr) -> bool {
        Network::LOOPBACK.iter().chain(&self.0).any(|network| network.holds(address))
    }

    /// Who asks: the peer, or, where that is a proxy, whom it names in `X-Forwarded-For`. Read from its end, where the
    /// nearest proxy writes: what a client wrote there itself is never reached.
    pub fn client(&self, peer: IpAddr, headers: &HeaderMap) -> Client {
        let mut last = peer;
        let lines: Vec<&str> =
            headers.get_all("x-forwarded-for").iter().filter_map(|line| line.to_str().ok()).collect();
        let mut named = lines.iter().rev().flat_map(|line| line.rsplit(','));
        while self.trusts(last) {
            let Some(Ok(next)) = named.next().map(|name| name.trim().parse()) else { break };
            last = next;
        }
        Client::of(last)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ip(text: &str) -> IpAddr {
        text.parse().unwrap()
    }

    #[test]
    fn an_ipv6_network_is_one_client_however_it_is_written() {
        assert_eq!(Client::of(ip("2001:db8:1:2::1")), Client::of(ip("2001:db8:1:2:ffff::9")));
        assert_ne!(Client::of(ip("2001:db8:1:2::1")), Client::of(ip("2001:db8:1:3::1")));
        assert_eq!(Client::of(ip("::ffff:192.0.2.1")), Client::of(ip("192.0.2.1")));
        assert_ne!(Client::of(ip("::ffff:192.0.2.1")), Client::of(ip("::ffff:192.0.2.2")));
    }

    #[test]
    fn only_the_word_of_a_proxy_is_taken_and_only_its_own() {
        let proxies = Proxies::new(vec!["10.0.0.0/8".parse().unwrap()]);
        let mut headers = HeaderMap::new();
        headers.append("x-forwarded-for", "203.0.113.9, 192.0.2.1".parse().unwrap());
        headers.append("x-forwarded-for", "10.1.1.1".parse().unwrap());
        for (peer, client) in [
            ("127.0.0.1", "192.0.2.1"),
            ("10.0.0.2", "192.0.2.1"),
            ("::ffff:10.0.0.2", "192.0.2.1"),
            ("192.0.2.7", "192.0.2.7"),
        ] {
            assert_eq!(proxies.client(ip(peer), &headers), Client::of(ip(client)), "{peer}");
        }
        headers.clear();
        assert_eq!(proxies.client(ip("10.0.0.2"), &headers), Client::of(ip("10.0.0.2")));
        headers.append("x-forwarded-for", "unknown".parse().unwrap());
        assert_eq!(proxies.client(ip("10.0.0.2"), &headers), Client::of(ip("10.0.0.2")));
    }

    #[test]
    fn networks_are_read_and_hold_what_they_should() {
        let holds = |network: &str, address| network.parse::<Network>().unwrap().holds(ip(address));
        assert!(holds("10.0.0.0/8", "10.255.0.1") && !holds("10.0.0.0/8", "11.0.0.1"));
        assert!(holds("10.0.0.2", "10.0.0.2") && !holds("10.0.0.2", "10.0.0.3"));
        assert!(holds("fd00::/8", "fd12::1") && !holds("fd00::/8", "fe80::1"));
        assert!(holds("0.0.0.0/0", "192.0.2.1") && !holds("0.0.0.0/0", "::1"));
        for wrong in ["10.0.0.0/33", "fd00::/129", "ten", "10.0.0.0/", "/8", ""] {
            assert!(wrong.parse::<Network>().is_err(), "{wrong}");
        }
    }
}
