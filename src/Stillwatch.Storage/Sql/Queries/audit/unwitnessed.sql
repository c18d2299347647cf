-- What no line of the audit speaks of, although each of these is written together with its line.
SELECT 'mark ' || number FROM review_marks WHERE number NOT IN (SELECT number FROM audit WHERE action = 'mark.made')
UNION ALL
SELECT 'that mark ' || number || ' was taken back' FROM review_marks
WHERE withdrawn_at IS NOT NULL AND 'mark ' || number NOT IN (SELECT subject FROM audit WHERE action = 'mark.withdrawn')
UNION ALL
SELECT 'blind look ' || number FROM blind_looks WHERE number NOT IN (SELECT number FROM audit WHERE action = 'blindlook.made')
UNION ALL
SELECT 'settings ' || number FROM settings_history WHERE number NOT IN (SELECT number FROM audit WHERE action = 'settings.accepted')
UNION ALL
SELECT 'report ' || number FROM reports WHERE number NOT IN (SELECT number FROM audit WHERE action = 'report.kept')
UNION ALL
SELECT 'recording ' || id FROM recordings WHERE id NOT IN (SELECT subject FROM audit WHERE action = 'recording.imported')
LIMIT 1;
