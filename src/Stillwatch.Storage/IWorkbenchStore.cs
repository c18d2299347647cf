using Stillwatch.Storage.Audit;
using Stillwatch.Storage.Marks;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Reports;
using Stillwatch.Storage.Settings;

namespace Stillwatch.Storage;

/// <summary>
/// All that the workbench keeps. What a call reports as stored is durable before it returns. Every change is one transaction, and its
/// line in the audit is part of that transaction: neither is ever there without the other.
/// </summary>
/// <remarks>Safe to call from several threads. Every method may throw <see cref="StoreException"/>.</remarks>
public interface IWorkbenchStore : IAsyncDisposable
{
    IRecordingStore Recordings { get; }

    IMarkStore Marks { get; }

    ISettingsHistory Settings { get; }

    IReportStore Reports { get; }

    IAuditTrail Audit { get; }
}
