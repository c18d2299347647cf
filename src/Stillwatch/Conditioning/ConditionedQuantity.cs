namespace Stillwatch.Conditioning;

/// <summary>Which validity rules apply (R2): SpO2 has bounds and a jump rule, pulse rate a lower bound only.</summary>
public enum ConditionedQuantity
{
    SpO2,
    PulseRate,
}
