namespace Stillwatch.Oximetry.Feed;

/// <summary>Channels that cannot be brought onto one even grid of 25 to 500 samples a second.</summary>
public sealed class FeedRefusedException(string where, string found, string expected, string likelyCause)
    : Exception($"{where}: found {found}, expected {expected}. Likely cause: {likelyCause}.")
{
    public string Where => where;

    public string Found => found;

    public string Expected => expected;

    public string LikelyCause => likelyCause;

    /// <summary>Found and expected alone, for a list in which the channel and the cause stand beside it.</summary>
    public string InList => $"found {found}, expected {expected}";
}
