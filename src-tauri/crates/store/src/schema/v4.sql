-- Schema 4: a job's row number is its place in the list.
--
-- It is the number of a record of the job: of the first of those that it got last without another job's in between. So a
-- larger row was changed later, the list is read from its end, and a search stops as soon as a page is full; a job that
-- gets one record after the other keeps its row.
DROP TRIGGER jobs_found_when_added;
DROP TRIGGER jobs_found_when_changed;
DROP TRIGGER jobs_lost_when_removed;
DROP TABLE job_search;
-- No two jobs share a record. Should a row say otherwise, it is derived and comes back when the shop is opened.
DELETE FROM jobs WHERE row NOT IN (SELECT max(row) FROM jobs GROUP BY newest_record);
UPDATE jobs SET row = -newest_record;
UPDATE jobs SET row = -row;
DROP INDEX jobs_by_change;

-- Prefixes of one to three letters have lists of their own: those of all jobs that hold one are too long to be merged.
CREATE VIRTUAL TABLE job_search USING fts5 (
  words, content = 'jobs', content_rowid = 'row', tokenize = 'unicode61 remove_diacritics 2', prefix = '1 2 3'
);
-- Without this, forgotten words stay readable in the index's freed pages.
INSERT INTO job_search (job_search, rank) VALUES ('secure-delete', 1);
INSERT INTO job_search (job_search) VALUES ('rebuild');

CREATE TRIGGER jobs_found_when_added AFTER INSERT ON jobs BEGIN
  INSERT INTO job_search (rowid, words) VALUES (new.row, new.words);
END;
CREATE TRIGGER jobs_found_when_changed AFTER UPDATE OF row, words ON jobs
WHEN new.row <> old.row OR new.words <> old.words BEGIN
  INSERT INTO job_search (job_search, rowid, words) VALUES ('delete', old.row, old.words);
  INSERT INTO job_search (rowid, words) VALUES (new.row, new.words);
END;
CREATE TRIGGER jobs_lost_when_removed AFTER DELETE ON jobs BEGIN
  INSERT INTO job_search (job_search, rowid, words) VALUES ('delete', old.row, old.words);
END;

-- What closed jobs remember is read from this index alone, not from the rows with all their words.
CREATE INDEX jobs_by_stage ON jobs (stage, job, cache);
