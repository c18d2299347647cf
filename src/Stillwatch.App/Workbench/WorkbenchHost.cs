using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.StaticWebAssets;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Hearing;
using Stillwatch.App.Workbench.Imports;
using Stillwatch.App.Workbench.Layout;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.Load;
using Stillwatch.App.Workbench.Prepare;
using Stillwatch.App.Workbench.ReportList;
using Stillwatch.App.Workbench.Review;
using Stillwatch.App.Workbench.Summary;
using Stillwatch.Storage;

namespace Stillwatch.App.Workbench;

/// <summary>What the workbench needs to be told.</summary>
/// <param name="Store">Where everything is kept; whoever opened it closes it.</param>
/// <param name="Address">Where it listens, e.g. http://127.0.0.1:5210; port 0 takes a free one.</param>
/// <param name="StagingFolder">Where files wait between their arrival from the browser and their import; its content may be deleted at any time when nothing runs.</param>
/// <param name="Clock">The time of day.</param>
internal sealed record WorkbenchOptions(IWorkbenchStore Store, string Address, string StagingFolder, TimeProvider Clock);

/// <summary>Puts the web workbench together: services, pages, endpoints. The only place that knows all of them.</summary>
internal static class WorkbenchHost
{
    public static WebApplication Build(WorkbenchOptions options)
    {
        // Assets lie beside the program, wherever it is started from; names of environments change nothing.
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions { ContentRootPath = AppContext.BaseDirectory, ApplicationName = typeof(WorkbenchHost).Assembly.GetName().Name });
        StaticWebAssetsLoader.UseStaticWebAssets(builder.Environment, builder.Configuration);
        builder.WebHost.UseUrls(options.Address).ConfigureKestrel(kestrel => kestrel.AddServerHeader = false);
        builder.Logging.ClearProviders().SetMinimumLevel(LogLevel.Warning).AddSimpleConsole()
            .AddFilter("Microsoft.AspNetCore.Antiforgery", LogLevel.None) // a browser that still knows the program that ran before, with other keys, is no error
            .AddFilter("Microsoft.Extensions.Hosting", LogLevel.None); // a start that fails is told once, in words, by whoever asked for it
        AddServices(builder.Services, options);
        var app = builder.Build();
        app.UseMiddleware<LocalDoor>();
        app.UseStatusCodePagesWithReExecute("/not-found", createScopeForStatusCodePages: true);
        app.UseAntiforgery();
        app.MapStaticAssets();
        ArrivalEndpoint.Map(app);
        StripEndpoint.Map(app);
        app.MapReports();
        app.MapSound();
        app.MapRazorComponents<WorkbenchApp>().AddInteractiveServerRenderMode();
        return app;
    }

    private static void AddServices(IServiceCollection services, WorkbenchOptions options)
    {
        // Keys that last as long as the process: nothing of them is worth keeping, and nothing is written outside the data folder.
        services.AddDataProtection().UseEphemeralDataProtectionProvider();
        services.AddRazorComponents().AddInteractiveServerComponents();
        services.AddSingleton(options);
        services.AddSingleton(options.Store);
        services.AddSingleton(options.Clock);
        services.AddSingleton<RecordingLibrary>();
        services.AddSingleton<GroupLoader>();
        services.AddSingleton<SettingsFinder>();
        services.AddScoped<PageTheme>();
        services.AddSingleton(new ArrivalDesk(options.StagingFolder, ArrivalLimits.Usual));
        services.AddSingleton<ImportService>();
        services.AddSingleton<StripDesk>();
        services.AddSingleton<EvidenceRun>();
        services.AddSingleton<DecisionDesk>();
        services.AddSingleton<ScoreShelf>();
        services.AddSingleton<PrepareDesk>();
        services.AddSingleton<LoadRun>();
        services.AddSingleton<SummaryRun>();
        services.AddSingleton<ReportKeeper>();
        services.AddSingleton<RecordingReports>();
    }
}
