namespace Stillwatch.Oxygenation.Dissociation;

/// <summary>A partial pressure of a gas, or the pressure of the air; a type of its own so that Torr and kPa are never confused.</summary>
/// <remarks>NaN stands for "no number"; nothing is confined here: each calculation says which pressures it takes.</remarks>
public readonly record struct GasPressure : IComparable<GasPressure>
{
    /// <summary>Torr in a kilopascal: 760 Torr are 101.325 kPa by definition.</summary>
    public const double TorrPerKilopascal = 760 / 101.325;

    private GasPressure(double torr) => Torr = torr;

    public double Torr { get; }

    public double Kilopascal => Torr / TorrPerKilopascal;

    public static GasPressure FromTorr(double torr) => new(torr);

    public static GasPressure FromKilopascal(double kilopascal) => new(kilopascal * TorrPerKilopascal);

    public int CompareTo(GasPressure other) => Torr.CompareTo(other.Torr);

    public static bool operator <(GasPressure left, GasPressure right) => left.Torr < right.Torr;

    public static bool operator >(GasPressure left, GasPressure right) => left.Torr > right.Torr;

    public static bool operator <=(GasPressure left, GasPressure right) => left.Torr <= right.Torr;

    public static bool operator >=(GasPressure left, GasPressure right) => left.Torr >= right.Torr;

    public override string ToString() => $"{Torr:0.###} Torr";
}
