using System.Security.Cryptography;
using System.Text;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Page;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Handover;

/// <summary>What stands on every page to hand over: cautions, software, hashes, how numbers were made.</summary>
internal static class HandoverWords
{
    /// <summary>More files than this are named by one hash over their list.</summary>
    private const int FilesInFull = 6;

    public const string Invented = "Invented data. No patient, ward or monitor stands behind this page; it shows what the program does.";

    public static string Foot(HandoverDocument document) => $"{document.Software}. {Cautions.Short}{(document.IsInvented ? " The data are invented." : "")}";

    /// <summary>Software and files, so that another person can make the page again.</summary>
    public static IEnumerable<Block> Origin(Provenance provenance)
    {
        string software = $"{provenance.Software}{(provenance.MadeAt is { } at ? $", {at}" : "")}.{(provenance.Command is { } command ? $" Command: {command}" : "")}";
        yield return new Block.Fine($"Software: {software}");
        if (provenance.Inputs.Count == 0) yield return new Block.Fine("Files: none; the values came from the program’s own store or were typed in.");
        else if (provenance.Inputs.Count <= FilesInFull)
            yield return new Block.Points([.. provenance.Inputs.Select(i => $"{i.Name} (read as {i.Role}), SHA-256 {i.Sha256 ?? "not computed"}")], AreFine: true);
        else yield return new Block.Fine(OfMany(provenance.Inputs));
        if (provenance.Notes.Count > 0) yield return new Block.Points(provenance.Notes, AreFine: true);
    }

    /// <summary>The hash of what <c>sha256sum</c> prints for the files, ordered by name: it can be computed again without this program.</summary>
    public static string ListHash(IReadOnlyList<InputFile> files) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(
        string.Concat(files.OrderBy(f => f.Name, StringComparer.Ordinal).Select(f => $"{f.Sha256}  {f.Name}\n")))));

    private static string OfMany(IReadOnlyList<InputFile> files)
    {
        string names = $"{Words.Count(files.Count, "file")}, from {files.Min(f => f.Name, StringComparer.Ordinal)} to {files.Max(f => f.Name, StringComparer.Ordinal)}";
        return files.Any(f => f.Sha256 is null)
            ? $"Files: {names}; {files.Count(f => f.Sha256 is null)} of them without a hash."
            : $"Files: {names}. SHA-256 over the list of their hashes (lines “hash, two blanks, name”, ordered by name, as sha256sum prints them): {ListHash(files)}";
    }

    private static string? Min(this IReadOnlyList<InputFile> files, Func<InputFile, string> of, StringComparer order) => files.Select(of).Order(order).FirstOrDefault();

    private static string? Max(this IReadOnlyList<InputFile> files, Func<InputFile, string> of, StringComparer order) => files.Select(of).Order(order).LastOrDefault();
}
