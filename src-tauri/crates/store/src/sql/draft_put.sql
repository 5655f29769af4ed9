INSERT INTO drafts (job, form, json) VALUES (:job, :form, :json)
ON CONFLICT (job, form) DO UPDATE SET json = excluded.json
