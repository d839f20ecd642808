//! Who is who: a signed cookie that names a chat, and a token that only its own pages carry.
//!
//! Both are HMAC-SHA-256 (RFC 2104, FIPS 180-4) over what they say, each under a key of its own drawn from the one
//! that is kept in a file.

use data_encoding::{BASE32_NOPAD, BASE64URL_NOPAD};
use hmac::{Hmac, KeyInit as _, Mac as _};
use sha2::Sha256;
use subtle::ConstantTimeEq as _;

use crate::message::ChatId;

/// How long a cookie is good for, in seconds: 90 days.
pub(super) const LIFETIME: u64 = 90 * 86_400;
/// A cookie with less left than this is renewed, in seconds: 60 days.
const RENEW_BELOW: u64 = 60 * 86_400;

/// The key that cookies are signed with.
#[derive(Clone)]
pub struct Seal {
    key: [u8; 32],
}

/// Somebody at a page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Visitor {
    /// 128 bits of chance, as text.
    id: String,
    /// When the cookie runs out, in seconds since 1970.
    expires: u64,
}

impl Visitor {
    pub(super) fn new(fresh: [u8; 16], now: u64) -> Self {
        let id = BASE32_NOPAD.encode(&fresh).to_lowercase();
        Self { id, expires: now.saturating_add(LIFETIME) }
    }

    /// Their chat.
    pub(super) fn chat(&self) -> Option<ChatId> {
        ChatId::new(format!("web:{}", self.id))
    }

    /// The same visitor with a fresh cookie, where the one they have is getting old.
    pub(super) fn renewed(&self, now: u64) -> Option<Self> {
        let old = self.expires < now.saturating_add(RENEW_BELOW);
        old.then(|| Self { id: self.id.clone(), expires: now.saturating_add(LIFETIME) })
    }
}

impl Seal {
    /// A seal with a key of 32 bytes of chance.
    pub const fn new(key: [u8; 32]) -> Self {
        Self { key }
    }

    /// A cookie's value.
    pub(super) fn cookie(&self, visitor: &Visitor) -> String {
        let said = format!("{}.{}", visitor.id, visitor.expires);
        format!("{said}.{}", BASE64URL_NOPAD.encode(&self.mac("cookie", &said)))
    }

    /// Who a cookie names, where it is ours and has not run out.
    pub(super) fn visitor(&self, cookie: &str, now: u64) -> Option<Visitor> {
        let (said, mac) = cookie.rsplit_once('.')?;
        let mac = BASE64URL_NOPAD.decode(mac.as_bytes()).ok()?;
        let ours = self.mac("cookie", said);
        if !bool::from(mac.as_slice().ct_eq(&ours)) {
            return None;
        }
        let (id, expires) = said.split_once('.')?;
        let visitor = Visitor { id: id.to_owned(), expires: expires.parse().ok()? };
        (visitor.expires > now).then_some(visitor)
    }

    /// What every form of this visitor's pages carries: nobody else's page knows it.
    pub(super) fn form_token(&self, visitor: &Visitor) -> String {
        BASE64URL_NOPAD.encode(&self.mac("form", &visitor.id))
    }

    /// Whether a form came from a page of this visitor.
    pub(super) fn is_form_of(&self, visitor: &Visitor, token: &str) -> bool {
        self.form_token(visitor).as_bytes().ct_eq(token.as_bytes()).into()
    }

    fn mac(&self, purpose: &str, said: &str) -> [u8; 32] {
        let key = hmac(&self.key, purpose.as_bytes());
        hmac(&key, said.as_bytes())
    }
}

fn hmac(key: &[u8; 32], said: &[u8]) -> [u8; 32] {
    // A key of the block's size fits as it is; ours is padded with zeros, as RFC 2104 pads any shorter key.
    let mut block = [0_u8; 64];
    for (to, from) in block.iter_mut().zip(key) {
        *to = *from;
    }
    let mut mac = Hmac::<Sha256>::new(&block.into());
    mac.update(said);
    mac.finalize().into_bytes().into()
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: u64 = 1_795_608_000;

    #[test]
    fn hmac_is_that_of_the_standard() {
        // RFC 4231 uses keys of other lengths; this one was worked out with Python's hmac module.
        let mac = hmac(&[11; 32], b"Hi There");
        assert_eq!(
            data_encoding::HEXLOWER.encode(&mac),
            "198a607eb44bfbc69903a0f1cf2bbdc5ba0aa3f3d9ae3c1c7a3b1696a0b68cf7"
        );
    }

    #[test]
    fn a_cookie_is_good_until_it_runs_out() {
        let seal = Seal::new([1; 32]);
        let visitor = Visitor::new([2; 16], NOW);
        let cookie = seal.cookie(&visitor);
        assert_eq!(seal.visitor(&cookie, NOW), Some(visitor.clone()));
        assert_eq!(seal.visitor(&cookie, NOW + LIFETIME), None);
        assert_eq!(visitor.renewed(NOW), None);
        assert!(visitor.renewed(NOW + LIFETIME - RENEW_BELOW + 1).is_some());
    }

    #[test]
    fn a_cookie_that_is_not_ours_names_nobody() {
        let seal = Seal::new([1; 32]);
        let cookie = seal.cookie(&Visitor::new([2; 16], NOW));
        let (said, mac) = cookie.rsplit_once('.').unwrap();
        let other = Seal::new([3; 32]).cookie(&Visitor::new([2; 16], NOW));
        let later = said.replace(&(NOW + LIFETIME).to_string(), &(NOW + 2 * LIFETIME).to_string());
        for forged in [
            other.as_str(),
            &format!("{said}."),
            &format!("{said}.AAAA"),
            &format!("{later}.{mac}"),
            &cookie.replacen('e', "f", 1),
            &cookie[..cookie.len() - 1],
            "..",
            "",
        ] {
            assert_eq!(seal.visitor(forged, NOW), None, "{forged}");
        }
    }

    #[test]
    fn a_form_belongs_to_one_visitor() {
        let seal = Seal::new([1; 32]);
        let (me, you) = (Visitor::new([2; 16], NOW), Visitor::new([3; 16], NOW));
        assert!(seal.is_form_of(&me, &seal.form_token(&me)));
        assert!(!seal.is_form_of(&me, &seal.form_token(&you)));
        assert!(!seal.is_form_of(&me, ""));
    }
}
