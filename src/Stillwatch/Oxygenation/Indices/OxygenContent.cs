using Stillwatch.Oxygenation.Dissociation;

namespace Stillwatch.Oxygenation.Indices;

/// <summary>How much oxygen a decilitre of blood carries: k·Hb·S bound to haemoglobin and 0.003·PO2 dissolved.</summary>
/// <remarks>The formula from memory; k differs between books, so it is asked for each time.</remarks>
public static class OxygenContent
{
    /// <summary>mL of oxygen that a gram of haemoglobin binds; from a secondary copy.</summary>
    public const double Binding134 = 1.34;

    /// <summary>mL of oxygen that a gram of haemoglobin binds; from memory.</summary>
    public const double Binding136 = 1.36;

    /// <summary>mL of oxygen that a gram of haemoglobin binds, if none of it is changed; from memory.</summary>
    public const double Binding139 = 1.39;

    /// <summary>mL of oxygen dissolved per decilitre and Torr; from memory.</summary>
    public const double Dissolved = 0.003;

    /// <param name="haemoglobinGramsPerDecilitre">0–30; more is taken for grams per litre and refused.</param>
    /// <param name="saturation">Of that haemoglobin, 0–1.</param>
    /// <param name="oxygen">Its pressure in the same blood, 0 Torr or more.</param>
    /// <param name="bindingMillilitresPerGram">One of the constants here; 1.3–1.4 is taken.</param>
    /// <returns>mL per dL, or why there is none; any NaN gives none.</returns>
    public static Answer<double> MillilitresPerDecilitre(double haemoglobinGramsPerDecilitre, Saturation saturation, GasPressure oxygen, double bindingMillilitresPerGram)
    {
        if (!(haemoglobinGramsPerDecilitre is >= 0 and <= 30)) return Answer.None<double>($"haemoglobin is {haemoglobinGramsPerDecilitre:0.###} g/dL; expected 0 to 30: given in g/L, perhaps?");
        if (!(saturation.Fraction is >= 0 and <= 1)) return Answer.None<double>($"saturation is {saturation}; expected 0 to 100 %");
        if (!(oxygen.Torr >= 0) || double.IsInfinity(oxygen.Torr)) return Answer.None<double>($"oxygen pressure is {oxygen}; expected 0 Torr or more");
        if (!(bindingMillilitresPerGram is >= 1.3 and <= 1.4)) return Answer.None<double>($"binding is {bindingMillilitresPerGram:0.###} mL/g; expected 1.34, 1.36 or 1.39");
        return Answer.Of(bindingMillilitresPerGram * haemoglobinGramsPerDecilitre * saturation.Fraction + Dissolved * oxygen.Torr);
    }
}
