### What was found while the data folder was opened, each with what to do.

notice_database_moved_aside = The database was damaged and was moved aside, not deleted: { $path }
notice_database_moved_aside_remedy = Nothing was deleted. Look through your newest jobs, make a backup today, and have the phone’s storage checked.
notice_database_rebuilt = The database was rebuilt from the journals and photos. Records: { $records }. Lost: { $lost }
notice_database_rebuilt_remedy = Sealed records are back. Check your settings and unfinished forms: those may have to be entered again.
notice_log_damaged = Part of a job’s log is damaged.
notice_log_damaged_remedy = Don’t delete anything. Check your latest backup: if the job is whole there, import it from that backup.
notice_records_recovered = Records missing from the database were recovered from the journal: { $records }.
notice_records_recovered_remedy = Nothing to do: they are back in their jobs.
notice_journal_differs = The journal and the database disagree about a record. The journal was set aside: { $path }
notice_journal_differs_remedy = Both were kept. Don’t add to this job; check its packet, and compare with your latest backup.
notice_journal_behind = The newest records could not be written to the journal next to the database.
notice_journal_behind_remedy = They are safe in the database. Free up some space, restart the app, and make a backup.
notice_forgetting_finished = Deleting a customer’s data was interrupted and has now been finished.
notice_forgetting_finished_remedy = Nothing to do. Copies handed out earlier and old backups still contain the data.
notice_leftovers_swept = Unfinished files from an interrupted save were removed: { $files }.
notice_leftovers_swept_remedy = If you took a photo just before the app closed, check that it is there.
notice_record_unusable = Record { $number } of this job can’t be used.
notice_record_unusable_remedy = It stays on record, and everything else goes on. Enter what it said again, and update the app if there is a newer version.
notice_read = I’ve read this
notice_job = Go to the job
notice_unexpected = Something happened to this shop’s data.
notice_unexpected_remedy = Don’t delete anything. Update the app, and keep your backup.
notice_checkpoint_not_signed = A record was saved but could not be signed.
notice_checkpoint_not_signed_remedy = Open the key under Settings, This phone’s key. The next report or packet signs it too.
notice_circuit_unusable = The circuit of this job can’t be used.
notice_circuit_unusable_remedy = Readings are saved without reasoning. Update the app, or choose the circuit again.
