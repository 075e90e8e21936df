//! What is kept beside the plan: photos and receipts, and the solvers' remembered answers.

use rusqlite::{OptionalExtension, params};

use super::ProjectFile;
use super::fault::FileFault;

/// The largest attachment, bytes.
pub const LARGEST_ATTACHMENT: usize = 24_000_000;

/// A photo or a receipt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Attachment {
    /// What it is asked for by: the same bytes have the same.
    pub digest: String,
    /// The name it came with.
    pub name: String,
    /// Its media type: `image/jpeg`.
    pub media: String,
    /// When it was attached.
    pub at: String,
    /// How many bytes.
    pub size: usize,
}

impl ProjectFile {
    /// Attaches a file; the same bytes are kept once.
    ///
    /// # Errors
    /// When it is too large, or cannot be written.
    pub fn attach(&mut self, name: &str, media: &str, bytes: &[u8], at: &str) -> Result<String, FileFault> {
        if bytes.len() > LARGEST_ATTACHMENT {
            return Err(FileFault::TooLarge { name: name.to_owned(), most: LARGEST_ATTACHMENT });
        }
        let digest = digest(bytes);
        self.connection
            .execute(
                "INSERT INTO attachments VALUES (?1, ?2, ?3, ?4, ?5) ON CONFLICT(digest) DO NOTHING",
                params![digest, name, media, at, bytes],
            )
            .map_err(|error| self.fault(&error))?;
        Ok(digest)
    }

    /// What is attached, by name.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn attachments(&self) -> Result<Vec<Attachment>, FileFault> {
        let read = || {
            let mut asked = self.connection.prepare(
                "SELECT digest, name, media, at, length(bytes) FROM attachments ORDER BY name, digest",
            )?;
            let rows = asked.query_map([], |row| {
                Ok(Attachment {
                    digest: row.get(0)?,
                    name: row.get(1)?,
                    media: row.get(2)?,
                    at: row.get(3)?,
                    size: usize::try_from(row.get::<_, i64>(4)?).unwrap_or_default(),
                })
            })?;
            rows.collect::<rusqlite::Result<Vec<_>>>()
        };
        read().map_err(|error| self.fault(&error))
    }

    /// The media type and bytes of an attachment; none of that digest.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn attachment(&self, digest: &str) -> Result<Option<(String, Vec<u8>)>, FileFault> {
        self.connection
            .query_row("SELECT media, bytes FROM attachments WHERE digest = ?1", [digest], |row| {
                Ok((row.get(0)?, row.get(1)?))
            })
            .optional()
            .map_err(|error| self.fault(&error))
    }

    /// Remembered answers: the bare numbers asked, and what was answered.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn remembered(&self) -> Result<Vec<(String, String)>, FileFault> {
        let read = || {
            let mut asked = self.connection.prepare("SELECT job, answer FROM answers")?;
            let rows = asked.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
            rows.collect::<rusqlite::Result<Vec<_>>>()
        };
        read().map_err(|error| self.fault(&error))
    }

    /// Remembers these answers and no others.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn remember(&mut self, answers: &[(String, String)]) -> Result<(), FileFault> {
        let writing = |connection: &mut rusqlite::Connection| -> rusqlite::Result<()> {
            let filling = connection.transaction()?;
            filling.execute("DELETE FROM answers", [])?;
            for (job, answer) in answers {
                filling.execute("INSERT INTO answers VALUES (?1, ?2)", params![job, answer])?;
            }
            filling.commit()
        };
        writing(&mut self.connection).map_err(|error| self.fault(&error))
    }
}

/// Two FNV-1a sums over the bytes, forwards and backwards, in hexadecimal: an address, not a seal.
fn digest(bytes: &[u8]) -> String {
    let sum = |bytes: &mut dyn Iterator<Item = &u8>| {
        bytes.fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
            (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
        })
    };
    format!("{:016x}{:016x}", sum(&mut bytes.iter()), sum(&mut bytes.iter().rev()))
}
