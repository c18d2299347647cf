namespace Stillwatch.Rehearsal;

/// <summary>What truly happened, in plain words, the same on every page and in every file.</summary>
public static class TruthKinds
{
    public static string InWords(this TruthKind kind) => kind switch
    {
        TruthKind.ShortDip => "short dip",
        TruthKind.SignificantDesaturation => "significant desaturation",
        TruthKind.Motion => "motion",
        TruthKind.SensorOff => "sensor off",
        TruthKind.SlowDecline => "getting worse slowly",
        TruthKind.Apnoea => "no breath",
        TruthKind.Hypoventilation => "too little breathing",
        TruthKind.TrueSaturationLow => "true saturation low",
        TruthKind.TrueSaturationHigh => "true saturation high",
        TruthKind.OxygenRaised => "more oxygen given",
        TruthKind.SensorSlipped => "sensor slipped",
        TruthKind.LowPerfusion => "low perfusion",
        TruthKind.StrayLight => "light from elsewhere",
        TruthKind.FeedLost => "feed lost",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "A truth without words."),
    };
}
