namespace Stillwatch.Oximetry.Feed;

/// <summary>Channels that cannot be brought onto one even grid of 25 to 500 samples a second.</summary>
public sealed class FeedRefusedException(string where, string found, string expected, string likelyCause)
    : Exception($"{where}: found {found}, expected {expected}. Likely cause: {likelyCause}.")
{
    public string Where => where;

    public string Found => found;

    public string Expected => expected;

    public string LikelyCause => likelyCause;
}
