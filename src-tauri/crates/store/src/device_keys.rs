use evidence::PublicKey;

use crate::{Store, StoreError};

impl Store {
    /// Remembers a public key of a device, this one or another; the same one twice is fine.
    ///
    /// # Errors
    /// [`StoreError::Evidence`] when it isn't a public key in PEM; those of the database.
    pub fn keep_public_key(&self, device: &str, pem: &str) -> Result<(), StoreError> {
        let key = PublicKey::from_pem(pem)?;
        let insert =
            "INSERT INTO device_keys (device, fingerprint, pem) VALUES (?, ?, ?) ON CONFLICT DO NOTHING";
        self.database().prepare_cached(insert)?.execute((device, key.fingerprint()?.0, key.pem()?))?;
        Ok(())
    }

    /// Public keys of a device in the order this one learnt of them, as PEM.
    ///
    /// # Errors
    /// Those of the database.
    pub fn public_keys_of(&self, device: &str) -> Result<Vec<PublicKey>, StoreError> {
        let connection = self.database();
        let find = "SELECT pem FROM device_keys WHERE device = ? ORDER BY learnt";
        let mut statement = connection.prepare_cached(find)?;
        let pems = statement.query_map([device], |row| row.get::<_, String>(0))?;
        pems.map(|pem| Ok(PublicKey::from_pem(&pem?)?)).collect()
    }

    /// Every device whose key is known, with its keys, in the order they were learnt.
    ///
    /// # Errors
    /// Those of the database.
    pub fn known_public_keys(&self) -> Result<Vec<(String, PublicKey)>, StoreError> {
        let connection = self.database();
        let mut statement =
            connection.prepare_cached("SELECT device, pem FROM device_keys ORDER BY learnt")?;
        let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get::<_, String>(1)?)))?;
        let read = |row: rusqlite::Result<(String, String)>| {
            let (device, pem) = row?;
            Ok((device, PublicKey::from_pem(&pem)?))
        };
        rows.map(read).collect()
    }
}
