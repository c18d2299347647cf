SELECT number, hash FROM audit ORDER BY number DESC LIMIT 1;
