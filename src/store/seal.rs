//! What is kept is closed to everybody without the key.
//!
//! Envelopes: every chat has a random key of its own, which seals all that is held of it; that key is wrapped by
//! the ring's newest key. Erasing a chat deletes its wrapped key. A chat's name stands in no key of the store,
//! only a keyed hash of it. The cipher is XChaCha20-Poly1305 with the place of a value as its context, so that a
//! value moved elsewhere does not open. A store without a ring writes plainly, in the same places.

use std::fmt;
use std::path::Path;

use chacha20poly1305::aead::{Aead, KeyInit, Payload};
use chacha20poly1305::{Key, XChaCha20Poly1305, XNonce};
use data_encoding::BASE64;
use hmac::{Hmac, Mac};
use sha2::{Digest, Sha256};
use zeroize::Zeroizing;

use super::StoreError;

/// Where something stands in the store, in place of its name.
pub(in crate::store) type Tag = [u8; 16];

/// 32 bytes nobody else may see, wiped when dropped.
type Secret = Zeroizing<[u8; 32]>;

const PLAIN: u8 = 0;
const SEALED: u8 = 1;
const WRAPPED: u8 = 2;

/// One key of the ring, and the mark that says which it is.
#[derive(Clone)]
struct RingKey {
    mark: [u8; 4],
    secret: Secret,
}

impl RingKey {
    fn new(secret: [u8; 32]) -> Self {
        let digest = Sha256::new().chain_update(b"lapwise ring key").chain_update(secret).finalize();
        let mut mark = [0; 4];
        mark.iter_mut().zip(digest).for_each(|(to, from)| *to = from);
        Self { mark, secret: Zeroizing::new(secret) }
    }
}

/// The keys a store is opened with: the newest writes, all of them read.
#[derive(Clone)]
pub struct Keyring {
    newest: RingKey,
    older: Vec<RingKey>,
}

impl fmt::Debug for Keyring {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Keyring of {}", self.older.len() + 1)
    }
}

impl Keyring {
    /// A ring of the newest key and those it replaced.
    pub fn new(newest: [u8; 32], older: impl IntoIterator<Item = [u8; 32]>) -> Self {
        Self { newest: RingKey::new(newest), older: older.into_iter().map(RingKey::new).collect() }
    }

    /// Whether both close what they write with the same key.
    pub fn closes_like(&self, other: &Self) -> bool {
        *self.newest.secret == *other.newest.secret
    }

    /// The same keys, and behind them those of another ring: what either closed can be read.
    #[must_use]
    pub fn over(mut self, older: Self) -> Self {
        self.older.push(older.newest);
        self.older.extend(older.older);
        self
    }

    /// A ring from a file: a key a line, 32 bytes in base64, the newest first; `#` starts a remark.
    ///
    /// # Errors
    /// [`StoreError::Key`] where the file cannot be read or a line is not a key. The message never holds a key.
    pub fn read(path: &Path) -> Result<Self, StoreError> {
        let text = std::fs::read_to_string(path)
            .map(Zeroizing::new)
            .map_err(|error| StoreError::Key(format!("{}: {error}", path.display())))?;
        Self::parse(&text).map_err(|fault| StoreError::Key(format!("{}: {fault}", path.display())))
    }

    /// A ring from the text of a key file; the error says which line is at fault.
    pub fn parse(text: &str) -> Result<Self, String> {
        let mut keys = Vec::new();
        for (number, line) in text.lines().enumerate() {
            let line = line.trim();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let bytes = BASE64.decode(line.as_bytes()).ok().map(Zeroizing::new);
            let key = bytes.and_then(|bytes| <[u8; 32]>::try_from(bytes.as_slice()).ok());
            keys.push(key.ok_or_else(|| format!("line {} is not 32 bytes in base64", number + 1))?);
        }
        let mut keys = keys.into_iter();
        let newest = keys.next().ok_or("it holds no key")?;
        Ok(Self::new(newest, keys))
    }

    /// A line for a key file: a new random key.
    pub fn random_line() -> String {
        BASE64.encode(&rand::random::<[u8; 32]>())
    }

    /// Wraps secrets with the newest key.
    fn wrap(&self, place: &[u8], secrets: &[u8]) -> Result<Vec<u8>, StoreError> {
        let mut wrapped = vec![WRAPPED];
        wrapped.extend(self.newest.mark);
        wrapped.extend(encrypt(&self.newest.secret, place, secrets)?);
        Ok(wrapped)
    }

    fn unwrap(&self, place: &[u8], wrapped: &[u8]) -> Result<Zeroizing<Vec<u8>>, StoreError> {
        let Some(([WRAPPED, mark @ ..], sealed)) = wrapped.split_first_chunk::<5>() else {
            return Err(damaged(place));
        };
        let key = std::iter::once(&self.newest)
            .chain(&self.older)
            .find(|key| key.mark == *mark)
            .ok_or_else(|| StoreError::Key(
                    "it was closed with a key that is not in the key file. If `lapwise rekey` was cut short, run it \
                     again with the same two files; else name the file that holds the newer key"
                        .to_owned(),
                ))?;
        decrypt(&key.secret, place, sealed).map(Zeroizing::new)
    }
}

/// What seals and opens the values of one chat, or of the store itself.
#[derive(Clone)]
pub(in crate::store) struct ValueSeal(Option<Secret>);

impl ValueSeal {
    /// Closes a value that will stand at a place.
    pub(in crate::store) fn close(&self, place: &[u8], value: &[u8]) -> Result<Vec<u8>, StoreError> {
        let (kind, body) = match &self.0 {
            None => (PLAIN, value.to_vec()),
            Some(secret) => (SEALED, encrypt(secret, place, value)?),
        };
        let mut closed = vec![kind];
        closed.extend(body);
        Ok(closed)
    }

    /// Opens a value that stands at a place.
    pub(in crate::store) fn open(&self, place: &[u8], closed: &[u8]) -> Result<Vec<u8>, StoreError> {
        match (&self.0, closed.split_first()) {
            (None, Some((&PLAIN, value))) => Ok(value.to_vec()),
            (Some(secret), Some((&SEALED, sealed))) => decrypt(secret, place, sealed),
            (None | Some(_), _) => Err(damaged(place)),
        }
    }
}

/// How a whole store is sealed.
#[derive(Clone)]
pub(in crate::store) enum Seal {
    /// Not at all.
    Plain,
    /// With a ring, a secret for names, and one for what belongs to no chat.
    Sealed {
        /// Wraps the keys of chats.
        ring: Keyring,
        /// The key of names; it never changes, or nothing would be found again.
        naming: Zeroizing<[u8; 64]>,
        /// Seals what belongs to no chat.
        own: Secret,
    },
}

impl Seal {
    /// The seal of a new store, and the record that lets it be opened again.
    pub(in crate::store) fn create(
        ring: Option<Keyring>,
        place: &[u8],
    ) -> Result<(Self, Vec<u8>), StoreError> {
        let Some(ring) = ring else { return Ok((Self::Plain, vec![PLAIN])) };
        let seal =
            Self::Sealed { ring, naming: Zeroizing::new(random_64()), own: Zeroizing::new(rand::random()) };
        let record = seal.record(place)?;
        Ok((seal, record))
    }

    /// The seal of a store that is there. A wrong, missing or needless key is an error.
    pub(in crate::store) fn reopen(
        ring: Option<Keyring>,
        place: &[u8],
        record: &[u8],
    ) -> Result<Self, StoreError> {
        match (ring, record.first()) {
            (None, Some(&PLAIN)) => Ok(Self::Plain),
            (Some(_), Some(&PLAIN)) => Err(StoreError::Key(
                "the store is not sealed, and a key was given: open it without one, or begin a new store"
                    .into(),
            )),
            (None, Some(&WRAPPED)) => {
                Err(StoreError::Key("the store is sealed, and no key was given".into()))
            }
            (Some(ring), Some(&WRAPPED)) => {
                let secrets = ring.unwrap(place, record)?;
                let (naming, own) = secrets.split_first_chunk::<64>().ok_or_else(|| damaged(place))?;
                let own = <[u8; 32]>::try_from(own).map_err(|_| damaged(place))?;
                Ok(Self::Sealed { ring, naming: Zeroizing::new(*naming), own: Zeroizing::new(own) })
            }
            (None | Some(_), _) => Err(damaged(place)),
        }
    }

    /// The record that lets the store be opened again, closed with the newest key.
    pub(in crate::store) fn record(&self, place: &[u8]) -> Result<Vec<u8>, StoreError> {
        match self {
            Self::Plain => Ok(vec![PLAIN]),
            Self::Sealed { ring, naming, own } => {
                let secrets = Zeroizing::new([naming.as_slice(), own.as_slice()].concat());
                ring.wrap(place, &secrets)
            }
        }
    }

    /// Where something of a kind and a name stands.
    pub(in crate::store) fn tag(&self, kind: u8, name: &str) -> Tag {
        let mut tag = Tag::default();
        let digest = match self {
            Self::Plain => Sha256::new().chain_update([kind]).chain_update(name).finalize(),
            Self::Sealed { naming, .. } => {
                let mut mac = <Hmac<Sha256> as KeyInit>::new(&(**naming).into());
                mac.update(&[kind]);
                mac.update(name.as_bytes());
                mac.finalize().into_bytes()
            }
        };
        tag.iter_mut().zip(digest).for_each(|(to, from)| *to = from);
        tag
    }

    /// The seal of what belongs to no chat.
    pub(in crate::store) fn own(&self) -> ValueSeal {
        match self {
            Self::Plain => ValueSeal(None),
            Self::Sealed { own, .. } => ValueSeal(Some(own.clone())),
        }
    }

    /// A new chat's seal.
    pub(in crate::store) fn new_chat(&self) -> ValueSeal {
        match self {
            Self::Plain => ValueSeal(None),
            Self::Sealed { .. } => ValueSeal(Some(Zeroizing::new(rand::random()))),
        }
    }

    /// The record of a chat: its id and its seal, closed with the newest key.
    pub(in crate::store) fn wrap_chat(
        &self,
        place: &[u8],
        id: &str,
        seal: &ValueSeal,
    ) -> Result<Vec<u8>, StoreError> {
        match (self, &seal.0) {
            (Self::Plain, _) | (Self::Sealed { .. }, None) => ValueSeal(None).close(place, id.as_bytes()),
            (Self::Sealed { ring, .. }, Some(secret)) => {
                ring.wrap(place, &Zeroizing::new([secret.as_slice(), id.as_bytes()].concat()))
            }
        }
    }

    /// A chat's id and seal from its record.
    pub(in crate::store) fn unwrap_chat(
        &self,
        place: &[u8],
        record: &[u8],
    ) -> Result<(String, ValueSeal), StoreError> {
        let (id, seal) = match self {
            Self::Plain => (ValueSeal(None).open(place, record)?, ValueSeal(None)),
            Self::Sealed { ring, .. } => {
                let opened = ring.unwrap(place, record)?;
                let (secret, id) = opened.split_first_chunk::<32>().ok_or_else(|| damaged(place))?;
                (id.to_vec(), ValueSeal(Some(Zeroizing::new(*secret))))
            }
        };
        Ok((String::from_utf8(id).map_err(|_| damaged(place))?, seal))
    }
}

fn random_64() -> [u8; 64] {
    rand::random()
}

fn encrypt(secret: &Secret, place: &[u8], value: &[u8]) -> Result<Vec<u8>, StoreError> {
    let nonce: [u8; 24] = rand::random();
    let sealed = XChaCha20Poly1305::new(&Key::from(**secret))
        .encrypt(&XNonce::from(nonce), Payload { msg: value, aad: place })
        .map_err(|_| StoreError::Io("a value is too long to be sealed".to_owned()))?;
    Ok([nonce.as_slice(), &sealed].concat())
}

fn decrypt(secret: &Secret, place: &[u8], sealed: &[u8]) -> Result<Vec<u8>, StoreError> {
    let (nonce, body) = sealed.split_first_chunk::<24>().ok_or_else(|| damaged(place))?;
    XChaCha20Poly1305::new(&Key::from(**secret))
        .decrypt(&XNonce::from(*nonce), Payload { msg: body, aad: place })
        .map_err(|_| damaged(place))
}

/// A value that does not open: the place is told by its kind alone.
fn damaged(place: &[u8]) -> StoreError {
    let kind = place.first().copied().map_or('?', char::from);
    StoreError::Damaged(format!("a record of kind '{kind}' does not open"))
}
