namespace Stillwatch.Alarms;

/// <summary>A set of alarm conditions, equal when it holds the same ones. The default is empty.</summary>
public readonly record struct AlarmConditionSet
{
    private readonly int bits;

    private AlarmConditionSet(int bits) => this.bits = bits;

    public bool IsEmpty => bits == 0;

    public static AlarmConditionSet Of(params ReadOnlySpan<AlarmCondition> conditions)
    {
        int bits = 0;
        foreach (var condition in conditions) bits |= 1 << (int)condition;
        return new AlarmConditionSet(bits);
    }

    public bool Contains(AlarmCondition condition) => (bits & (1 << (int)condition)) != 0;

    public override string ToString()
    {
        var set = this;
        return string.Join(", ", Enum.GetValues<AlarmCondition>().Where(set.Contains));
    }
}
