using Stillwatch.Alarms;
using Stillwatch.Quantities;

namespace Stillwatch.Oxygenation.Newborn;

/// <summary>Target SpO2 in the right hand (pre-ductal) in the first minutes after birth.</summary>
/// <remarks>
/// Neonatal resuscitation algorithm of 2015, secondary copy; the same in 2021 from memory. Minutes 6–9 have no published target: the
/// algorithm goes from minute 5 to minute 10. None is interpolated and none is carried on; the unit's policy decides.
/// </remarks>
public static class FirstMinutes
{
    /// <param name="minute">Whole minutes since birth.</param>
    /// <returns>The range, or why there is none.</returns>
    public static Answer<PercentRange> TargetAt(int minute) => minute switch
    {
        1 => Target(60, 65),
        2 => Target(65, 70),
        3 => Target(70, 75),
        4 => Target(75, 80),
        5 => Target(80, 85),
        10 => Target(85, 95),
        >= 6 and <= 9 => Answer.None<PercentRange>($"no target is published for minute {minute}: the algorithm goes from minute 5 (80–85 %) to minute 10 (85–95 %)"),
        _ => Answer.None<PercentRange>($"minute is {minute}; targets are published for minutes 1 to 5 and 10 after birth"),
    };

    private static Answer<PercentRange> Target(int low, int high) => Answer.Of(new PercentRange(Percent.Of(low), Percent.Of(high)));
}
