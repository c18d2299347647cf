using System.Diagnostics.CodeAnalysis;

namespace Stillwatch.Oxygenation;

/// <summary>A result, or the reason why there is none: what lies outside the range in which a formula holds is never a silent number.</summary>
public readonly record struct Answer<T>
{
    private readonly T value;
    private readonly string? whyNot;

    internal Answer(T value, string? whyNot)
    {
        this.value = value;
        this.whyNot = whyNot;
        HasValue = whyNot is null;
    }

    public bool HasValue { get; }

    /// <exception cref="InvalidOperationException">There is none; the message says why.</exception>
    public T Value => HasValue ? value : throw new InvalidOperationException($"There is no result: {WhyNot}.");

    /// <summary>The reason, ready to be shown; empty where there is a result.</summary>
    public string WhyNot => HasValue ? "" : whyNot ?? "nothing was computed";

    public bool Is([MaybeNullWhen(false)] out T result)
    {
        result = value;
        return HasValue;
    }

    public override string ToString() => HasValue ? $"{value}" : $"none: {WhyNot}";
}

/// <summary>Makes answers.</summary>
public static class Answer
{
    public static Answer<T> Of<T>(T value) => new(value, null);

    public static Answer<T> None<T>(string whyNot) => new(default!, whyNot);
}
