-- Schema 5: what a job waits for, and a search that is narrowed to jobs with a mark.
--
-- `waiting` holds codes with a space between them. `marks` is what the list can be narrowed by, as words of letters and
-- digits alone ("stagehandedover waitspart"); both are derived from records like the rest of the row.
DROP TRIGGER jobs_found_when_added;
DROP TRIGGER jobs_found_when_changed;
DROP TRIGGER jobs_lost_when_removed;
DROP TABLE job_search;
ALTER TABLE jobs ADD COLUMN waiting TEXT NOT NULL DEFAULT '';
ALTER TABLE jobs ADD COLUMN marks   TEXT NOT NULL DEFAULT '';
UPDATE jobs SET marks = 'stage' || replace(stage, '_', '');
-- What an open job waits for is known once it is folded anew. A closed one waits for nothing.
INSERT OR IGNORE INTO jobs_to_fold (job) SELECT job FROM jobs WHERE stage NOT IN ('invoiced', 'handed_over');

CREATE VIRTUAL TABLE job_search USING fts5 (
  words, marks, content = 'jobs', content_rowid = 'row', tokenize = 'unicode61 remove_diacritics 2', prefix = '1 2 3'
);
-- Without this, forgotten words stay readable in the index's freed pages.
INSERT INTO job_search (job_search, rank) VALUES ('secure-delete', 1);
INSERT INTO job_search (job_search) VALUES ('rebuild');

CREATE TRIGGER jobs_found_when_added AFTER INSERT ON jobs BEGIN
  INSERT INTO job_search (rowid, words, marks) VALUES (new.row, new.words, new.marks);
END;
CREATE TRIGGER jobs_found_when_changed AFTER UPDATE OF row, words, marks ON jobs
WHEN new.row <> old.row OR new.words <> old.words OR new.marks <> old.marks BEGIN
  INSERT INTO job_search (job_search, rowid, words, marks) VALUES ('delete', old.row, old.words, old.marks);
  INSERT INTO job_search (rowid, words, marks) VALUES (new.row, new.words, new.marks);
END;
CREATE TRIGGER jobs_lost_when_removed AFTER DELETE ON jobs BEGIN
  INSERT INTO job_search (job_search, rowid, words, marks) VALUES ('delete', old.row, old.words, old.marks);
END;
