using Microsoft.Extensions.DependencyInjection;

namespace Stillwatch.App.Workbench.Evidence;

/// <summary>What the pages on settings, load, preparation, summary and reports are made of.</summary>
internal static class EvidencePages
{
    public static void AddEvidencePages(this IServiceCollection services)
    {
        services.AddSingleton<GroupLoader>();
        services.AddSingleton<SettingsFinder>();
        services.AddSingleton<EvidenceRun>();
        services.AddScoped<PageTheme>();
    }
}
