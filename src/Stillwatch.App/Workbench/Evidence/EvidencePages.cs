using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Stillwatch.App.Workbench.Hearing;
using Stillwatch.App.Workbench.Load;
using Stillwatch.App.Workbench.Prepare;
using Stillwatch.App.Workbench.ReportList;
using Stillwatch.App.Workbench.Summary;

namespace Stillwatch.App.Workbench.Evidence;

/// <summary>What the pages on settings, load, preparation, summary and reports are made of.</summary>
internal static class EvidencePages
{
    public static void AddEvidencePages(this IServiceCollection services)
    {
        services.AddSingleton<GroupLoader>();
        services.AddSingleton<SettingsFinder>();
        services.AddSingleton<EvidenceRun>();
        services.AddSingleton<ReportKeeper>();
        services.AddSingleton<DecisionDesk>();
        services.AddSingleton<PrepareDesk>();
        services.AddSingleton<LoadRun>();
        services.AddSingleton<ScoreShelf>();
        services.AddSingleton<SummaryRun>();
        services.AddScoped<PageTheme>();
    }

    public static void MapEvidencePages(this WebApplication app)
    {
        app.MapReports();
        app.MapSound();
    }
}
