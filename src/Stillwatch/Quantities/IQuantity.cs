namespace Stillwatch.Quantities;

/// <summary>
/// A measured quantity held as a whole number of millionths of its unit, so that decimals compare as decimals (rule R1):
/// ten times 0.7 is exactly 7.
/// </summary>
public interface IQuantity<TSelf> : IComparable<TSelf>
    where TSelf : struct, IQuantity<TSelf>
{
    int Micro { get; }

    static abstract TSelf FromMicro(int micro);
}
