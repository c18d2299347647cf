namespace Stillwatch.Formats.Edf.Writing;

/// <summary>What differs between the two formats.</summary>
/// <param name="Name">"EDF" or "BDF", as it stands before the plus and before "Annotations".</param>
/// <param name="Bytes">Bytes of a sample, little-endian two's complement.</param>
/// <param name="Lowest">The lowest count.</param>
/// <param name="Highest">The highest count.</param>
internal sealed record SampleWidth(string Name, int Bytes, int Lowest, int Highest)
{
    public static readonly SampleWidth Edf = new("EDF", 2, short.MinValue, short.MaxValue);

    public static readonly SampleWidth Bdf = new("BDF", 3, -8_388_608, 8_388_607);

    /// <summary>The lowest count that stands for a number; the two below are kept for rows without one.</summary>
    public int LowestNumber => Lowest + 2;

    public string AnnotationLabel => Name + " Annotations";
}
