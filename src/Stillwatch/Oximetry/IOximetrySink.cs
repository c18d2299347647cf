namespace Stillwatch.Oximetry;

/// <summary>Takes what the stream finds, in the order of time within each kind. The stream itself keeps nothing.</summary>
public interface IOximetrySink
{
    void Take(in Beat beat);

    /// <param name="secondIndex">From 0: the recording's own second.</param>
    /// <param name="reading">What is said of it.</param>
    void Take(int secondIndex, in SecondReading reading);

    void Take(in BreathingReading reading);
}
