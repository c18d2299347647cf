namespace Stillwatch.App.Jobs;

/// <summary>The whole job on the invented ward.</summary>
public sealed record DemoModel(DemoFiles Files, ulong Seed, InspectModel Inspected, ReviewModel Reviewed, WardModel Ward, TuneModel Tuned);
