namespace Stillwatch.Storage;

/// <summary>Who does something; always known, and written into the audit.</summary>
/// <param name="Name">An account's name, never a patient's.</param>
public readonly record struct Actor(string Name)
{
    /// <summary>The person at this machine, before there are accounts.</summary>
    public static readonly Actor Local = new("local");

    public override string ToString() => Name;
}
