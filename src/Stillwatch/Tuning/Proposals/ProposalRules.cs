using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tuning.Proposals;

/// <summary>Inside these a setting may be proposed; outside it may only be looked at (R14.5).</summary>
/// <param name="LowestLimit">The lowest SpO2 low limit.</param>
/// <param name="LongestDelay">The longest delay of the low limit.</param>
/// <param name="BackstopRequired">Whether a backstop must be on.</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record SearchBounds(Percent LowestLimit, Duration LongestDelay, bool BackstopRequired, string Source)
{
    public static readonly SearchBounds Default = new(
        Percent.Of(85), Duration.FromSeconds(30), true,
        "low limit: ISO 9919:2005, AA.201.5.4, 85 % as a generally acceptable lower limit; delay and backstop: unit policy, no source");

    /// <summary>The bounds of a category preset, with their sources; a backstop is always asked for.</summary>
    public static SearchBounds Of(CategoryPreset preset) => new(
        preset.LowestProposedLimit.Value, preset.LongestProposedDelay.Value, true,
        $"low limit: {preset.LowestProposedLimit.Source}; delay: {preset.LongestProposedDelay.Source}; backstop: {CategoryPresets.UnitPolicy}");

    public bool Allow(CandidateSettings settings) =>
        settings.SpO2Low.Limit >= LowestLimit && settings.SpO2Low.Delay <= LongestDelay && (settings.Backstop is not null || !BackstopRequired);

    public override string ToString() =>
        $"low limit ≥ {LowestLimit.Value:0.###} %, delay ≤ {LongestDelay}, backstop {(BackstopRequired ? "on" : "on or off")}";
}

/// <summary>How much a proposal may miss, as seen and as could be.</summary>
public sealed record GuardRails
{
    public int MissesAllowed { get; init; }

    public int LateAllowed { get; init; }

    /// <summary>The exact 95 % upper bound on the share of must-catch events missed may not exceed this, 0–1.</summary>
    public double EventsBound { get; init; } = 0.05;

    /// <summary>The same for the share of patients with an event missed, 0–1.</summary>
    public double PatientsBound { get; init; } = 0.30;

    /// <summary>
    /// The most of the valid time that may be spent in a signal beyond what the must-catch events last, 0–1: a limit above the
    /// patient's usual saturation starts few signals because it hardly ever stops one, and has caught everything before it happens.
    /// </summary>
    public double SignalTimeShare { get; init; } = 0.10;

    public string Source { get; init; } = "unit policy, no source";
}

/// <summary>
/// The candidate settings: every low limit with every delay, and every low limit with every area threshold, each with every
/// averaging time and every backstop. Delay and area are not combined: the settings map has no cell for that.
/// </summary>
public sealed record CandidateAxes
{
    public IReadOnlyList<Percent> Limits { get; init; } = [.. Enumerable.Range(82, 13).Select(l => Percent.Of(l))];

    public IReadOnlyList<Duration> Delays { get; init; } = [.. new[] { 0, 5, 10, 15, 20, 25, 30, 45, 60 }.Select(d => Duration.FromSeconds(d))];

    public IReadOnlyList<Area> Areas { get; init; } = [.. new[] { 20, 40, 60, 100, 150, 200 }.Select(a => Area.Of(a))];

    /// <summary>Our averaging, on top of the source's own.</summary>
    public IReadOnlyList<Duration> Averagings { get; init; } = [Duration.Zero, Duration.FromSeconds(8)];

    /// <summary>Null: no backstop; to be looked at where the bounds ask for one.</summary>
    public IReadOnlyList<BackstopSettings?> Backstops { get; init; } =
        [new(Percent.Of(80), Duration.FromSeconds(5)), new(Percent.Of(80), Duration.Zero)];

    public Percent ClearMargin { get; init; }
}

/// <summary>What is searched, for one category.</summary>
public sealed record CategorySearch(SearchBounds Bounds, CandidateAxes Axes)
{
    public static readonly CategorySearch Default = new(SearchBounds.Default, new CandidateAxes());

    /// <summary>A preset's bounds, and the usual candidates with the preset's backstop, with and without its delay.</summary>
    public static CategorySearch Of(CategoryPreset preset) => new(SearchBounds.Of(preset), new CandidateAxes
    {
        Backstops = [.. new[] { preset.BackstopDelay.Value, Duration.Zero }.Distinct().Select(d => new BackstopSettings(preset.BackstopLimit.Value, d))],
    });
}

/// <summary>
/// All that decides what a proposal may be, for the unit to own. Numbers without a source are unit rules.
/// </summary>
public sealed record ProposalRules
{
    public static readonly ProposalRules Default = new();

    public IReadOnlyDictionary<PatientCategory, CategorySearch> Categories { get; init; } = FromPresets();

    /// <summary>For categories without an entry of their own.</summary>
    public CategorySearch Otherwise { get; init; } = CategorySearch.Default;

    public GuardRails GuardRails { get; init; } = new();

    /// <summary>Validity, hold and rounding; its averaging is replaced by each candidate's.</summary>
    public ConditioningSettings Conditioning { get; init; } = ConditioningSettings.Default;

    /// <summary>How long without a value before the technical signal "no reading" starts, where no run was open (R9); as in the engine's defaults.</summary>
    public Duration NoReadingDelay { get; init; } = TechnicalSettings.Default.NoReadingDelay;

    /// <summary>
    /// Invalid time next to a value below this is possibly hypoxaemic (R14.4). 90 %: WHO's hypoxaemia (McCollum, BMJ Open Respir
    /// Res 2021;8:e001023). A must-catch level above it takes its place.
    /// </summary>
    public Percent LowNeighbour { get; init; } = Percent.Of(90);

    /// <summary>Resamples of patients behind every interval.</summary>
    public int Resamples { get; init; } = 1000;

    /// <summary>Folds of the held-out check, at most one per patient.</summary>
    public int Folds { get; init; } = 5;

    /// <summary>A patient with more than this share of the signals is named. Unit policy, no source.</summary>
    public double LoudShare { get; init; } = 0.5;

    /// <summary>Length of a stretch shown to reviewers without the alarms (R14.10). Unit policy, no source.</summary>
    public Duration BlindStretch { get; init; } = Duration.FromSeconds(300);

    /// <summary>How many such stretches are drawn. Unit policy, no source.</summary>
    public int BlindStretches { get; init; } = 20;

    /// <summary>Everything drawn is drawn from this.</summary>
    public ulong Seed { get; init; } = 20_251_125;

    public CategorySearch For(PatientCategory category) => Categories.TryGetValue(category, out var own) ? own : Otherwise;

    private static Dictionary<PatientCategory, CategorySearch> FromPresets()
    {
        // Bounds and backstop are the same at every age of a paediatric category.
        CategoryPreset[] presets =
        [
            CategoryPresets.Adult, CategoryPresets.AdultHypercapnicRisk, CategoryPresets.NeonatalOnOxygen, CategoryPresets.NeonatalOnAir,
            CategoryPresets.Paediatric(6), CategoryPresets.Paediatric(60), CategoryPresets.Paediatric(180),
        ];
        return presets.ToDictionary(p => p.Category, CategorySearch.Of);
    }
}
