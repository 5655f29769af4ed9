INSERT INTO settings (key, json) VALUES (:key, :json) ON CONFLICT (key) DO UPDATE SET json = excluded.json
