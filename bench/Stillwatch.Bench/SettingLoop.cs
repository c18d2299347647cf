using Stillwatch.Conditioning;

namespace Stillwatch.Bench;

/// <summary>The ordinary loop in C#: one setting after the other over the pieces of the conditioned series.</summary>
internal static class SettingLoop
{
    /// <summary>Per second of the day in whole percent; −1: lost. The same form as the peers' loop.</summary>
    public static short[] Seconds(ConditionedSeries series, int rows)
    {
        var seconds = new short[rows];
        Array.Fill(seconds, (short)-1);
        foreach (var piece in series.Pieces)
            seconds.AsSpan((int)(piece.Start.Milliseconds / 1000), (int)(piece.Length.Milliseconds / 1000)).Fill((short)(piece.Micro / 1_000_000));
        return seconds;
    }

    public static (long Signals, long Seconds) Count(ReadOnlySpan<short> seconds, int limit, int delay, int clear)
    {
        long signals = 0, active = 0;
        int run = 0, lost = 0;
        bool signalling = false;
        foreach (short value in seconds)
        {
            if (value < 0)
            {
                lost++;
                continue;
            }

            if (lost > 0)
            {
                if (lost > 60)
                {
                    run = 0;
                    signalling = false;
                }

                lost = 0;
            }

            if (value < limit)
            {
                run++;
                if (run > delay && !signalling)
                {
                    signalling = true;
                    signals++;
                }
            }
            else
            {
                run = 0;
                if (value >= clear) signalling = false;
            }

            if (signalling) active++;
        }

        return (signals, active);
    }
}
