namespace Stillwatch.Signals;

/// <summary>
/// Something a reader met that a person should know: nothing is repaired without one of these. Many alike are folded into one
/// with a count.
/// </summary>
/// <param name="Severity">How much it matters.</param>
/// <param name="Code">A short stable name, e.g. <c>time.repeated</c>.</param>
/// <param name="Place">Where: line and column of the first, as the user would find it ("line 12, column SpO2").</param>
/// <param name="Found">What stood there.</param>
/// <param name="Expected">What was expected.</param>
/// <param name="Assumed">What the reader did about it.</param>
/// <param name="Count">How many alike.</param>
public sealed record ReadIssue(IssueSeverity Severity, string Code, string Place, string Found, string Expected, string Assumed, long Count = 1);

public enum IssueSeverity
{
    /// <summary>Good to know.</summary>
    Note,

    /// <summary>May change a number somewhere.</summary>
    Doubt,

    /// <summary>Something could not be read.</summary>
    Failure,
}
