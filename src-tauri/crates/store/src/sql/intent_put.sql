INSERT INTO intent (only, json) VALUES (1, :json) ON CONFLICT (only) DO UPDATE SET json = excluded.json
