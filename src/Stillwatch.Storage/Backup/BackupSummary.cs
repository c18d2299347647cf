namespace Stillwatch.Storage.Backup;

/// <summary>What went into a backup, or came out of one.</summary>
/// <param name="File">The archive.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Sha256">Of the archive, lower-case hexadecimal: whoever writes it down elsewhere can tell whether it was changed.</param>
/// <param name="MadeAt">When the backup was made.</param>
/// <param name="Recordings">How many recordings.</param>
/// <param name="Marks">Review marks, withdrawn ones too.</param>
/// <param name="Settings">Lines of the settings history.</param>
/// <param name="Reports">Reports.</param>
/// <param name="AuditEntries">Lines of the audit.</param>
/// <param name="AuditLastHash">Of its last line.</param>
/// <param name="DamagedRecordings">Recordings whose facts, samples or annotations are not what their checksums say; they are in the backup as they stand.</param>
public sealed record BackupSummary(string File, long Bytes, string Sha256, DateTimeOffset MadeAt, long Recordings, long Marks, long Settings, long Reports, long AuditEntries, string AuditLastHash, long DamagedRecordings);
