using System.Diagnostics;
using System.Text;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>The program as the shell starts it: bytes on its streams, and its exit code.</summary>
public sealed class ProcessTests : IDisposable
{
    private readonly Folder folder = new();

    public ProcessTests() => folder.WriteNight("night.csv", 1800);

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Json_comes_out_as_UTF8_without_a_byte_order_mark_and_nothing_else()
    {
        var (code, output, error) = Start("inspect", folder["night.csv"], "--json");
        Assert.Equal(0, code);
        Assert.Equal((byte)'{', output[0]);
        Assert.Empty(error);
        using var json = System.Text.Json.JsonDocument.Parse(output);
    }

    [Fact]
    public void A_page_in_a_pipe_is_plain_text()
    {
        var (code, output, error) = Start("review", folder["night.csv"]);
        Assert.Equal(0, code);
        Assert.Empty(error);
        Assert.DoesNotContain((byte)0x1b, output);
        Assert.Contains("≤ 85 %", Encoding.UTF8.GetString(output), StringComparison.Ordinal);
    }

    [Fact]
    public void The_exit_code_reaches_the_shell()
    {
        Assert.Equal(2, Start("review").Code);
        Assert.Equal(3, Start("review", folder["missing.csv"]).Code);
    }

    [Fact]
    public void A_full_disk_ends_with_one_line_and_code_3()
    {
        Assert.SkipUnless(File.Exists("/dev/full") && File.Exists("/bin/sh"), "needs /dev/full, a device of Linux that takes nothing");
        var (code, _, error) = Shell("exec \"$0\" \"$1\" inspect \"$2\" --json >/dev/full");
        Assert.Equal(3, code);
        Assert.Matches(@"\Astillwatch: cannot write to standard output: [^\n]+\n\z", error);
    }

    [Fact]
    public void A_reader_that_closes_the_pipe_hears_no_complaint()
    {
        Assert.SkipUnless(File.Exists("/bin/sh"), "needs a shell");
        Assert.Empty(Shell("\"$0\" \"$1\" tune \"$2\" | :").Error);
    }

    private (int Code, byte[] Out, string Error) Shell(string script) =>
        Started(new ProcessStartInfo("/bin/sh", ["-c", script, Dotnet, Program, folder["night.csv"]]));

    private static string Dotnet => Environment.GetEnvironmentVariable("DOTNET_HOST_PATH") ?? "dotnet";

    private static string Program => Path.Combine(AppContext.BaseDirectory, "stillwatch.dll");

    private static (int Code, byte[] Out, string Error) Start(params string[] args)
    {
        return Started(new ProcessStartInfo(Dotnet, [Program, .. args]));
    }

    private static (int Code, byte[] Out, string Error) Started(ProcessStartInfo start)
    {
        start.RedirectStandardOutput = true;
        start.RedirectStandardError = true;
        start.StandardErrorEncoding = Encoding.UTF8;
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        using var output = new MemoryStream();
        process.StandardOutput.BaseStream.CopyTo(output);
        process.WaitForExit();
        return (process.ExitCode, output.ToArray(), error.GetAwaiter().GetResult());
    }
}
