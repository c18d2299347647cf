SELECT number, at, by_actor, action, subject, detail_json, previous_hash, hash FROM audit ORDER BY number DESC LIMIT @AtMost;
