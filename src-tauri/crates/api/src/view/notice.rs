use super::*;
use std::collections::BTreeMap;

/// Something that opening the shop, or reading a job, found and the user should hear about.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[ts(export)]
pub struct NoticeView {
    /// Its id, to acknowledge it by.
    pub id: String,
    /// Code, with a sentence and a remedy in the catalog: database_moved_aside, database_rebuilt, log_damaged,
    /// records_recovered, journal_differs, journal_behind, forgetting_finished, leftovers_swept, checkpoint_not_signed,
    /// record_unusable, circuit_unusable, log_mended, records_set_aside, originals_lost, records_not_vouched, key_list_lost, public_key_replaced,
    /// keys_believed, forgetting_not_ours,
    /// records_of_stranger, appointment_near.
    pub code: String,
    /// Values the sentence needs, by name.
    pub values: BTreeMap<String, String>,
    /// The job it is about, or empty.
    pub job: String,
    /// When it was found (wall time).
    pub found: String,
}
