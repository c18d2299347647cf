namespace Stillwatch.Conditioning;

/// <summary>How a compared value relates to the one before it.</summary>
public enum Arrival
{
    /// <summary>The very first compared value.</summary>
    First,

    /// <summary>The one before it still held.</summary>
    Continues,

    /// <summary>After a loss whose next valid sample came within 60 s: a run or signal may go on (R9).</summary>
    BackInTime,

    /// <summary>After a loss that lasted longer: whatever was open has ended as lost (R9).</summary>
    BackTooLate,
}

/// <summary>Receives a conditioned series in time order.</summary>
public interface IConditionedVisitor
{
    /// <summary>From <paramref name="milliseconds"/> on the series has this value. Called only where the value changes, or after a loss.</summary>
    void Value(long milliseconds, int micro, Arrival arrival);

    /// <summary>The hold ran out at this instant; nothing is known until the next <see cref="Value"/>.</summary>
    void Lost(long milliseconds);

    /// <summary>The recording ended: an open value ends here; after <see cref="Lost"/>, what was open ended at the loss.</summary>
    void End(long milliseconds);
}
