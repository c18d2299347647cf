namespace Stillwatch.Oxygenation.Agreement;

/// <summary>What one subject gave.</summary>
/// <param name="Tested">Readings of the device under test; NaN: none.</param>
/// <param name="Reference">Readings of the reference, at the same indices where the true value varies.</param>
public sealed record SubjectReadings(IReadOnlyList<double> Tested, IReadOnlyList<double> Reference);
