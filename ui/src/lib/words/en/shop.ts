/** First start, device, settings, list of jobs. */
export const shop = {
  first_title: 'Your shop',
  first_over: 'First start',
  first_why:
    'These names stand in every record and on every report. You can change them later; earlier records keep theirs.',
  shop_name: 'Name of the shop',
  technician: 'Your name',
  region: 'Region, for the rules of approval',
  region_pick: 'Choose a region',
  region_other: 'Unknown here: no margin',
  rules_margin: 'Margin over the approved total: {percent} %',
  rules_no_margin: 'No margin over the approved total.',
  rules_written: 'A written estimate is required.',
  rules_years: 'Records are kept {years} years.',
  rules_sources: 'Where this comes from',
  registration: 'Registration number of the shop',
  labour_rate: 'Labour rate per hour',
  tax_percent: 'Sales tax, in percent',
  set_up: 'Make the key and start',
  device_title: 'This phone’s key',
  device_why:
    'This key signs what you keep. Its fingerprint is shown to every customer at approval, so that nobody can swap the key later.',
  fingerprint: 'Fingerprint',
  fingerprint_words: 'Fingerprint in words',
  fingerprint_qr: 'Fingerprint as a QR code',
  protection: 'How the key is guarded',
  protection_owner_only_file: 'In a file that only this app’s user may read.',
  protection_passphrase: 'A file that only this app can read, encrypted by your passphrase',
  protection_hardware: 'The phone’s own key store',
  protection_no_key: 'No key',
  to_jobs: 'To the jobs',

  jobs_title: 'Jobs',
  jobs_search: 'Find a job',
  jobs_search_hint: 'Vehicle, customer, VIN, complaint or number',
  jobs_none: 'No job yet. Take in the first vehicle.',
  jobs_no_match: 'No job has all of these words.',
  jobs_count: 'Jobs shown: {count} of {total}',
  jobs_more: 'Show more ({count} left)',
  job_new: 'Take in a vehicle',
  job_number: 'Job {number}',
  vehicle_unknown: 'Vehicle not written down yet',
  settings: 'Settings',

  notice_read: 'I’ve read this',
  notice_job: 'To the job',
  notice_database_moved_aside: 'The database could not be read. It was moved aside, not deleted: {path}',
  notice_database_moved_aside_remedy:
    'Keep that file. Look through the list of jobs; if one is missing, use your backup.',
  notice_database_rebuilt:
    'The database was built anew from the sealed records. Records: {records}. Lost: {lost}',
  notice_database_rebuilt_remedy:
    'Look through the list of jobs. What was lost is in your backup; drafts and settings may have to be entered again.',
  notice_log_damaged: 'A log of records is damaged from some place on.',
  notice_log_damaged_remedy:
    'Don’t delete anything. What comes before that place still holds; get the rest from your backup.',
  notice_records_recovered: 'Records that the database lacked were brought back from the journal: {records}',
  notice_records_recovered_remedy: 'Nothing is to be done. Look at the job if you were working on it.',
  notice_journal_differs:
    'The journal and the database say different things about a record. The journal was moved aside: {path}',
  notice_journal_differs_remedy:
    'Nothing was overwritten. Don’t delete anything, and compare with your backup or a packet you handed out.',
  notice_journal_behind: 'The journal lacks records that the database has.',
  notice_journal_behind_remedy:
    'They are written there again. Check that the storage is not full, then write a backup.',
  notice_forgetting_finished: 'Forgetting a customer had been interrupted. It is finished now.',
  notice_forgetting_finished_remedy:
    'Nothing is to be done. The time-line of the job says what was destroyed.',
  notice_leftovers_swept: 'Files left over from interrupted work were cleared away: {files}',
  notice_leftovers_swept_remedy:
    'Nothing on record was among them. If a report, packet or backup was being written, write it again.',
  notice_record_unusable: 'Record {number} of this job can’t be used.',
  notice_record_unusable_remedy:
    'The job is shown without it; the record itself stays as it is. Check the job against your backup.',
  notice_checkpoint_not_signed: 'A record was kept, but could not be signed.',
  notice_checkpoint_not_signed_remedy:
    'Open the key under Settings, This phone’s key. The next report or packet signs it too.',
  notice_circuit_unusable: 'The circuit of this job can’t be used.',
  notice_circuit_unusable_remedy:
    'Readings are kept without reasoning. Update the app, or choose a circuit anew.',
  notice_unexpected: 'Something happened to the data of this shop.',
  notice_unexpected_remedy: 'Don’t delete anything. Update the app, and keep your backup.',

  settings_title: 'Settings',
  language: 'Language',
  language_en: 'English',
  language_es: 'Español',
  theme: 'Light',
  theme_light: 'Light (outdoors)',
  theme_dark: 'Dark',
  theme_system: 'As the phone',
  hand: 'Hand that holds the phone',
  hand_right: 'Right',
  hand_left: 'Left',
  vibration: 'Vibrate when something was kept or failed',
  shop_change: 'Shop, rate and tax',
  settings_kept: 'Choices are kept at once.',

  stage_intake: 'taking in',
  stage_measuring: 'measuring',
  stage_finding: 'finding',
  stage_estimate: 'estimate',
  stage_approved: 'approved',
  stage_repair: 'repair',
  stage_proof: 'fix proven',
  stage_invoiced: 'invoiced',
  stage_handed_over: 'handed over',
};
