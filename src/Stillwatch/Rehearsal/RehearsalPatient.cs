using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Rehearsal;

/// <summary>What truly happened in a stretch of an invented night.</summary>
public enum TruthKind
{
    /// <summary>A short fall that a ward would not call significant.</summary>
    ShortDip,
    SignificantDesaturation,

    /// <summary>Movement: the reading falls, the patient does not.</summary>
    Motion,
    SensorOff,

    /// <summary>Getting worse over hours.</summary>
    SlowDecline,

    /// <summary>No air moves, whatever the effort.</summary>
    Apnoea,

    /// <summary>Breathing that no longer clears the carbon dioxide.</summary>
    Hypoventilation,

    /// <summary>The true saturation at the site is below the category's starting limit.</summary>
    TrueSaturationLow,

    /// <summary>The true saturation at the site is above the category's starting high limit while oxygen is given.</summary>
    TrueSaturationHigh,

    /// <summary>More oxygen is given than before.</summary>
    OxygenRaised,
    SensorSlipped,

    /// <summary>Little blood reaches the site.</summary>
    LowPerfusion,

    /// <summary>Light from elsewhere reaches the sensor.</summary>
    StrayLight,

    /// <summary>Nothing arrives from the monitor.</summary>
    FeedLost,
}

/// <summary>One true episode.</summary>
public sealed record TruthEpisode(TruthKind Kind, TimeSlice Span);

/// <summary>What an invented patient is like; rates are per hour, significant events per night.</summary>
public sealed record RehearsalProfile
{
    public required string Story { get; init; }

    public PatientCategory Category { get; init; } = PatientCategory.Adult;

    /// <summary>The category's name in commands and files.</summary>
    public string CategoryName { get; init; } = "adult";

    public string Oxygen { get; init; } = "air";

    public int SourceAveragingSeconds { get; init; } = 8;

    public double Saturation { get; init; } = 95.5;

    public double Wander { get; init; } = 0.8;

    public double PulseRate { get; init; } = 74;

    public double Perfusion { get; init; } = 2.2;

    public double ShortDipsPerHour { get; init; } = 2;

    public int SignificantPerNight { get; init; } = 2;

    public (double Low, double High) SignificantNadir { get; init; } = (72, 82);

    public (double Low, double High) SignificantHoldSeconds { get; init; } = (80, 190);

    public double MotionsPerHour { get; init; } = 1;

    public int SensorOffPerNight { get; init; } = 2;

    /// <summary>Percentage points lost per hour from the middle of the second night on.</summary>
    public double DeclinePerHour { get; init; }

    /// <summary>Change of pulse rate in a desaturation, /min.</summary>
    public double PulseResponse { get; init; } = 14;
}

/// <summary>One invented night: what the monitor gave out, and the truth behind it.</summary>
/// <param name="Recording">SpO2, pulse rate and perfusion as recorded, one row a second.</param>
/// <param name="TrueSaturation">True saturation in percent, a value for each row.</param>
/// <param name="Episodes">What truly happened, in time order.</param>
public sealed record RehearsalNight(Recording Recording, IReadOnlyList<double> TrueSaturation, IReadOnlyList<TruthEpisode> Episodes);

/// <summary>An invented patient with invented nights.</summary>
public sealed record RehearsalPatient(string Key, RehearsalProfile Profile, IReadOnlyList<RehearsalNight> Nights);

/// <summary>An invented ward.</summary>
public sealed record RehearsalWard(string Name, ulong Seed, IReadOnlyList<RehearsalPatient> Patients);
