SELECT version AS number, name, program FROM store_version ORDER BY version;
