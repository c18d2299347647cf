using System.Security.Cryptography;
using Stillwatch.App.Commands;
using Stillwatch.Formats.Exports;

namespace Stillwatch.App.Files;

/// <summary>The kept secret of de-identified exports, in a file that only its owner may read: 64 hexadecimal digits and a line feed.</summary>
/// <param name="Path">Where it lies.</param>
/// <param name="Secret">Its content.</param>
/// <param name="IsNew">Whether it was made just now.</param>
/// <param name="IsOpenToOthers">Whether its permissions let other accounts read it.</param>
internal sealed record SecretFile(string Path, LinkageSecret Secret, bool IsNew, bool IsOpenToOthers)
{
    private const int LongestText = 200;

    public static string StandardPath => System.IO.Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.ApplicationData, Environment.SpecialFolderOption.DoNotVerify), "stillwatch", "export-secret.txt");

    /// <summary>Reads the secret, or makes one where there is no file.</summary>
    /// <exception cref="StopException">Exit code 3: it cannot be read or made, or is no secret.</exception>
    public static SecretFile Open(string path)
    {
        try
        {
            if (File.Exists(path)) return Read(path);
            byte[] key = RandomNumberGenerator.GetBytes(LinkageSecret.Bytes);
            if (System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(path)) is { } folder) Directory.CreateDirectory(folder);
            var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
            if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
            using var writer = new StreamWriter(path, System.Text.Encoding.ASCII, options);
            writer.Write(Convert.ToHexStringLower(key) + "\n");
            return new SecretFile(path, new LinkageSecret(key), true, false);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw StopException.Unreadable(new Trouble($"cannot use the secret {path}", e.Message, "a file that may be read, or a folder in which one may be made", path, "it belongs to another account; name another with --secret"), e);
        }
    }

    private static SecretFile Read(string path)
    {
        if (new FileInfo(path).Length <= LongestText && File.ReadAllText(path).Trim() is { Length: 2 * LinkageSecret.Bytes } text && text.All(char.IsAsciiHexDigit))
        {
            bool isOpen = !OperatingSystem.IsWindows() && (File.GetUnixFileMode(path) & (UnixFileMode.GroupRead | UnixFileMode.OtherRead)) != 0;
            return new SecretFile(path, new LinkageSecret(Convert.FromHexString(text)), false, isOpen);
        }

        bool isEmpty = new FileInfo(path).Length == 0;
        throw StopException.Unreadable(new Trouble($"cannot use the secret {path}", isEmpty ? "an empty file" : "something else", $"{2 * LinkageSecret.Bytes} hexadecimal digits", path, $"{(isEmpty ? "writing it was interrupted, or it was only created; if no export was made with it, delete it" : "another file was named")}; a secret is made by export itself where there is no such file"));
    }
}
