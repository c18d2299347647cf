using System.Runtime.InteropServices;
using Microsoft.Win32.SafeHandles;

namespace Stillwatch.Formats.Edf.Records;

/// <summary>
/// Tells the system which bytes of a file are needed soon, so that scattered small reads find them in memory. Advice alone: a wrong or
/// refused one changes no result. POSIX.1-2017, posix_fadvise; on other systems there is none.
/// </summary>
internal static class ReadAdvice
{
    private const int WillNeed = 3;

    private static bool isThere = OperatingSystem.IsLinux() && Environment.Is64BitProcess;

    /// <summary>Whether advice can be given at all: without it, scattered reads of a file that is not in memory wait for the disk one by one.</summary>
    public static bool IsThere => isThere;

    public static void Soon(SafeFileHandle file, long position, long bytes)
    {
        if (!isThere) return;
        try
        {
            _ = posix_fadvise((int)file.DangerousGetHandle(), position, bytes, WillNeed);
        }
        catch (Exception e) when (e is EntryPointNotFoundException or DllNotFoundException)
        {
            isThere = false;
        }
    }

    [DllImport("libc")]
    private static extern int posix_fadvise(int file, long offset, long length, int advice);
}
