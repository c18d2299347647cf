using System.Collections.Concurrent;

namespace Stillwatch.Storage.Sql;

/// <summary>The statements of the .sql files beside this one, by their path without the ending.</summary>
internal static class SqlText
{
    private static readonly ConcurrentDictionary<string, string> Texts = new();

    /// <summary>A statement that both databases understand.</summary>
    public static string Of(string name) => Texts.GetOrAdd("Queries/" + name, Load);

    /// <summary>The migrations of one database, in order.</summary>
    public static IReadOnlyList<Migration> Migrations(string database)
    {
        string folder = database + "/Migrations/";
        return [.. typeof(SqlText).Assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(folder, StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)
            .Select(name => new Migration(int.Parse(name.AsSpan(folder.Length, 4)), name[folder.Length..], Load(name)))];
    }

    private static string Load(string name)
    {
        using var stream = typeof(SqlText).Assembly.GetManifestResourceStream(name) ?? throw new InvalidOperationException($"There is no {name}.sql among the resources.");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}

/// <summary>One step from a store of before to a store of now.</summary>
internal sealed record Migration(int Version, string Name, string Sql);
