using Stillwatch.Oxygenation.Indices;
using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation.Newborn;

/// <summary>SpO2 of the right hand (pre-ductal) and of a foot (post-ductal), taken together.</summary>
public sealed record ScreeningReading
{
    private ScreeningReading(Percent rightHand, Percent foot)
    {
        RightHand = rightHand;
        Foot = foot;
    }

    public Percent RightHand { get; }

    public Percent Foot { get; }

    /// <returns>The reading, or why it cannot be judged: a site without a reading (0), or above 100 %.</returns>
    public static Answer<ScreeningReading> Of(Percent rightHand, Percent foot)
    {
        if (UsableReading.WhyNot(rightHand) is { } noHand) return Answer.None<ScreeningReading>($"right hand: {noHand}");
        if (UsableReading.WhyNot(foot) is { } noFoot) return Answer.None<ScreeningReading>($"foot: {noFoot}");
        return Answer.Of(new ScreeningReading(rightHand, foot));
    }
}
