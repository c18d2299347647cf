using Stillwatch.Signals;

namespace Stillwatch.Formats.Json;

/// <summary>The words of <c>stillwatch.recording/1</c>.</summary>
internal static class RecordingFields
{
    public const string Format = "stillwatch.recording/1";

    public const string DateTimeForm = "yyyy-MM-ddTHH:mm:ss.FFFFFFF";
    public const string TimeForm = "HH:mm:ss.FFFFFFF";

    // A year's worth and more in milliseconds: a hundred thousand years. Sums of two of them stay far inside 64 bits.
    public const long MostMilliseconds = 3_155_760_000_000_000;

    public static readonly IReadOnlyDictionary<string, ChannelKind> Kinds = Enum.GetValues<ChannelKind>().ToDictionary(Name);

    public static readonly IReadOnlyDictionary<string, AnnotationOrigin> Origins = Enum.GetValues<AnnotationOrigin>().ToDictionary(Name);

    public static string Name(ChannelKind kind) => kind == ChannelKind.SpO2 ? "spo2" : CamelCase(kind.ToString());

    public static string Name(AnnotationOrigin origin) => CamelCase(origin.ToString());

    private static string CamelCase(string name) => char.ToLowerInvariant(name[0]) + name[1..];
}
