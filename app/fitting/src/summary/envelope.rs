//! The envelope that everything kept lies in.

use super::Unreadable;
use super::unreadable::hold;
use crate::CORE_VERSION;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// The most characters of an id.
pub const MOST_ID_CHARACTERS: usize = 40;

/// The most characters of a core version.
const MOST_CORE_CHARACTERS: usize = 24;

/// The last moment a browser's date can hold, milliseconds (ECMA-262, "Time Values and Time
/// Range"). Below 2^53, so it is exact in JSON everywhere.
pub(super) const LAST_EPOCH_MS: u64 = 8_640_000_000_000_000;

/// The kinds of things that are kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// A fitting: one visit with one stick.
    Fitting,
    /// One recorded task of a fitting.
    Task,
    /// What a fitting came to.
    Summary,
    /// A host that somebody described.
    Host,
}

/// One kept thing. In JSON: `kind`, `schema`, `core`, `id`, `made`, `body`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Envelope<T> {
    /// What it is.
    pub kind: Kind,
    /// The version of the body's form, from 1.
    pub schema: u32,
    /// The version of the computing core that made it.
    pub core: String,
    /// Its id: 1 to [`MOST_ID_CHARACTERS`] of `0-9`, `a-z` and `-`.
    pub id: String,
    /// When it was made, milliseconds since 1970 UTC.
    #[serde(rename = "made")]
    pub made_epoch_ms: u64,
    /// What it holds.
    pub body: T,
}

/// What may lie in an [`Envelope`].
pub trait Body: Clone + Serialize + DeserializeOwned {
    /// The kind of it.
    const KIND: Kind;
    /// The schema that is written.
    const SCHEMA: u32;
    /// The largest JSON text that is read, bytes.
    const MOST_BYTES: usize;

    /// Whether every field holds what it may hold.
    ///
    /// # Errors
    /// [`Unreadable::OutOfRange`] with the first field that does not.
    fn check(&self) -> Result<(), Unreadable>;

    /// The body as it is written: texts typed by a person are made plain, so that keeping
    /// never fails for what somebody typed.
    fn tidied(&self) -> Cow<'_, Self> {
        Cow::Borrowed(self)
    }

    /// Reads an envelope of an older schema, 1 and up, and brings it forward to
    /// [`Self::SCHEMA`]. The place for every migration.
    ///
    /// # Errors
    /// [`Unreadable`] when the text is not of that schema.
    fn from_older(schema: u32, _json: &str) -> Result<Envelope<Self>, Unreadable> {
        Err(Unreadable::UnknownSchema { found: schema })
    }
}

impl<T: Body> Envelope<T> {
    /// A new envelope of the present schema and core version. The id and the time are handed
    /// in, as the core has neither randomness nor a clock.
    #[must_use]
    pub fn new(id: impl Into<String>, made_epoch_ms: u64, body: T) -> Self {
        Self {
            kind: T::KIND,
            schema: T::SCHEMA,
            core: CORE_VERSION.to_owned(),
            id: id.into(),
            made_epoch_ms,
            body,
        }
    }

    /// As JSON text.
    ///
    /// # Errors
    /// [`Unreadable::OutOfRange`] with the field that could not be read again.
    pub fn to_json(&self) -> Result<String, Unreadable> {
        let body = self.body.tidied();
        self.check_with(&body)?;
        let written = Envelope {
            kind: self.kind,
            schema: self.schema,
            core: self.core.clone(),
            id: self.id.clone(),
            made_epoch_ms: self.made_epoch_ms,
            body: BodyRef(&*body),
        };
        serde_json::to_string(&written).map_err(|error| Unreadable::from_json(&error))
    }

    /// From JSON text: the same as [`read`].
    ///
    /// # Errors
    /// [`Unreadable`].
    pub fn from_json(json: &str) -> Result<Self, Unreadable> {
        read(json)
    }

    /// Whether envelope and body hold what they may hold.
    ///
    /// # Errors
    /// [`Unreadable`] with the first thing that is wrong.
    pub fn check(&self) -> Result<(), Unreadable> {
        self.check_with(&self.body)
    }

    fn check_with(&self, body: &T) -> Result<(), Unreadable> {
        if self.kind != T::KIND {
            return Err(Unreadable::WrongKind { found: self.kind });
        }
        if self.schema != T::SCHEMA {
            return Err(Unreadable::UnknownSchema { found: self.schema });
        }
        hold(is_core(&self.core), "core")?;
        hold(is_id(&self.id), "id")?;
        hold(self.made_epoch_ms <= LAST_EPOCH_MS, "made")?;
        body.check()
    }
}

/// Lets a borrowed body be written without a copy.
struct BodyRef<'a, T>(&'a T);

impl<T: Serialize> Serialize for BodyRef<'_, T> {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

/// The outside of a kept thing, read without its body.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Head {
    /// What it is.
    pub kind: Kind,
    /// The version of the body's form.
    pub schema: u32,
}

/// What a JSON text is, without reading its body: for files of unknown kind.
///
/// # Errors
/// [`Unreadable::NotJson`] or [`Unreadable::NotOurs`].
pub fn peek(json: &str) -> Result<Head, Unreadable> {
    #[derive(Deserialize)]
    struct Outside {
        kind: Kind,
        schema: u32,
    }
    serde_json::from_str::<Outside>(json)
        .map(|outside| Head { kind: outside.kind, schema: outside.schema })
        .map_err(|error| match Unreadable::from_json(&error) {
            Unreadable::Shape { .. } => Unreadable::NotOurs,
            other => other,
        })
}

/// Reads one kept thing of a kind from JSON text, checks it, and brings older schemas forward.
///
/// # Errors
/// [`Unreadable`] with what is wrong; never panics, whatever the text.
pub fn read<T: Body>(json: &str) -> Result<Envelope<T>, Unreadable> {
    if json.len() > T::MOST_BYTES {
        return Err(Unreadable::TooLarge { bytes: json.len(), most: T::MOST_BYTES });
    }
    let head = peek(json)?;
    if head.kind != T::KIND {
        return Err(Unreadable::WrongKind { found: head.kind });
    }
    let envelope: Envelope<T> = match head.schema {
        0 => return Err(Unreadable::UnknownSchema { found: 0 }),
        schema if schema > T::SCHEMA => {
            return Err(Unreadable::NewerSchema { found: schema, known: T::SCHEMA });
        }
        schema if schema < T::SCHEMA => T::from_older(schema, json)?,
        _ => serde_json::from_str(json).map_err(|error| Unreadable::from_json(&error))?,
    };
    envelope.check()?;
    Ok(envelope)
}

/// Reads a schema of which the present one is an extension: all that came since has a default
/// that says what was meant before it could be said.
pub(super) fn extended<T: Body>(json: &str) -> Result<Envelope<T>, Unreadable> {
    let mut envelope: Envelope<T> =
        serde_json::from_str(json).map_err(|error| Unreadable::from_json(&error))?;
    envelope.schema = T::SCHEMA;
    Ok(envelope)
}

/// Whether a text may be an id.
#[must_use]
pub fn is_id(id: &str) -> bool {
    (1..=MOST_ID_CHARACTERS).contains(&id.len())
        && id.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'z' | b'-'))
}

/// Whether a text may be a core version.
pub(super) fn is_core(core: &str) -> bool {
    (1..=MOST_CORE_CHARACTERS).contains(&core.len())
        && core.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'z' | b'.' | b'+' | b'-'))
}
