//! Kinds of record whose bodies `evidence` defines, because its verifier reads them.

use super::RecordKind;
use super::descriptor::{Descriptor, Field};
use evidence::succession::{DeviceAdded, KeyChanged, KeyLost};
use evidence::timestamp::TimestampBody;

impl RecordKind for TimestampBody {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "timestamp",
        &[
            Field::public("authority"),
            Field::public("size"),
            Field::public("root"),
            Field::public("nonce"),
            Field::public("token"),
        ],
    );
}

impl RecordKind for KeyChanged {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "key_changed",
        &[
            Field::public("device"),
            Field::public("old_key"),
            Field::public("new_key"),
            Field::public("signature"),
        ],
    );
}

impl RecordKind for KeyLost {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "key_lost",
        &[Field::public("device"), Field::public("lost_key"), Field::public("new_key")],
    );
}

impl RecordKind for DeviceAdded {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "device_added",
        &[
            Field::public("device"),
            Field::public("signing_key"),
            Field::public("new_key"),
            Field::public("signature"),
        ],
    );
}
