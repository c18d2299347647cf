using System.Security.Cryptography;
using Stillwatch.App.Commands;
using Stillwatch.Formats;

namespace Stillwatch.App.Files;

/// <summary>A file that a result was computed from, with the hash by which it can be recognised again.</summary>
/// <param name="Path">As the user gave it.</param>
/// <param name="Name">Its name without folders.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Sha256">Lower-case hexadecimal.</param>
public sealed record InputFile(string Path, string Name, long Bytes, string Sha256)
{
    /// <summary>The other files that were read for it: some formats keep a recording's header, signals and notes apart.</summary>
    public IReadOnlyList<InputFile> Parts { get; init; } = [];

    /// <summary>What two copies of one recording have in common whatever their names: the hashes of all that was read, in the order of reading.</summary>
    public string Identity => string.Join(' ', Parts.Select(p => p.Sha256).Prepend(Sha256));

    /// <summary>The <see cref="Identity"/> of the recording that it is our export of; null: it is none, or its manifest does not say.</summary>
    public string? ExportOf { get; init; }

    /// <summary>The same for a recording and its exports, which hold the same hours.</summary>
    public string Hours => ExportOf ?? Identity;

    /// <exception cref="StopException">Exit code 3.</exception>
    public static InputFile Of(string path)
    {
        try
        {
            using var stream = OpenRead(path);
            byte[] hash = SHA256.HashData(stream);
            return new InputFile(path, System.IO.Path.GetFileName(path), stream.Length, Convert.ToHexStringLower(hash));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw StopException.Unreadable(WhyNotOpened(path, e), e);
        }
    }

    /// <summary>Files are only ever read, and others may go on writing them.</summary>
    public static Stream OpenRead(string path) => RegularFile.OpenRead(path);

    public static Trouble WhyNotOpened(string path, Exception e) => e switch
    {
        _ when Directory.Exists(path) => new Trouble($"cannot read {path}", "a folder", "a file", path, "the command that takes a folder is meant: ward, or tune"),
        FileNotFoundException when File.Exists(path) => new Trouble(
            $"cannot read {path}", $"the name \"{System.IO.Path.GetFileName(path)}\"", "a file name with none of the characters " + FileNames.Forbidden, path, "it was named on a system that allows more: give the file another name"),
        FileNotFoundException or DirectoryNotFoundException => new Trouble($"cannot read {path}", "no such file", "an existing file", path, "the name is misspelled, or another folder is meant"),
        UnauthorizedAccessException => new Trouble($"cannot read {path}", "access refused", "a file that may be read", path, "the file belongs to another account"),
        _ => new Trouble($"cannot read {path}", e.Message, "a readable file", path, "the disk or the network share failed"),
    };
}
