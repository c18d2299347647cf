using System.CommandLine;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Microsoft.AspNetCore.Builder;
using Stillwatch.App.Terminal;
using Stillwatch.App.Workbench;

namespace Stillwatch.App.Commands;

/// <summary><c>serve</c>: the workbench in a browser.</summary>
internal static class ServeCommand
{
    public const int UsualPort = 5210;

    private static readonly Lesson Lesson = new(
        "Where can I look back, mark, compare settings and print, without typing commands?",
        "Starts the workbench: a program that this machine's own browser shows. Recordings are taken into a library, looked back over and marked; "
        + "settings are compared and decided; reports are printed. It listens to this machine alone unless --address says otherwise, asks for nothing, and needs "
        + "no network. Everything is kept in the data folder, or in a PostgreSQL database. Ctrl+C ends it.",
        [("stillwatch serve", "then open http://127.0.0.1:5210 in a browser"),
         ("stillwatch serve --data /srv/unit-b --port 8080", "another library, another port")],
        [("library", "the recordings that were taken in, with all that was said of them"),
         ("actor", "who is written down for what is done; \"local\" until there are accounts")],
        ["Whoever reaches the address may see and change everything: on another address than loopback put a guard in front of it."]);

    public static Command Create(Screen screen)
    {
        var store = new StoreOptions();
        var port = Port();
        var address = new Option<IPAddress?>("--address")
        {
            HelpName = "IP",
            Description = "The address to listen on [127.0.0.1, this machine alone, unless given]",
            CustomParser = result =>
            {
                string text = result.Tokens[^1].Value;
                if (IPAddress.TryParse(text, out var found)) return found;
                result.AddError($"--address: found '{text}', expected an IP address");
                return null;
            },
        };
        var command = new Command("serve", "The workbench in this machine's browser: library, review, settings evidence, reports");
        store.AddTo(command);
        command.Options.Add(address);
        command.Options.Add(port);
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(async (parsed, cancellation) =>
        {
            await using var opened = await store.OpenAsync(parsed, TimeProvider.System, cancellation);
            string staging = Path.Combine(store.FolderOf(parsed), "arrivals");
            await RunAsync(new WorkbenchOptions(opened, AddressOf(parsed.GetValue(address), parsed.GetValue(port)), staging, TimeProvider.System), screen, cancellation);
            return (int)ExitCode.Done;
        });
        return command;
    }

    public static Option<int> Port() => new("--port")
    {
        HelpName = "N",
        Description = $"The port to listen on; 0 takes a free one [{UsualPort} unless given]",
        DefaultValueFactory = _ => UsualPort,
        CustomParser = result =>
        {
            string text = result.Tokens.Count > 0 ? result.Tokens[^1].Value : "";
            if (ushort.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out ushort value)) return value;
            result.AddError($"--port: found '{text}', expected a whole number from 0 to 65535");
            return UsualPort;
        },
    };

    public static string AddressOf(IPAddress? address, int port) => $"http://{new IPEndPoint(address ?? IPAddress.Loopback, port)}";

    /// <summary>Serves until it is told to stop.</summary>
    /// <exception cref="StopException">Exit code 3: the address cannot be listened on, or another workbench holds the data folder.</exception>
    public static async Task RunAsync(WorkbenchOptions options, Screen screen, CancellationToken cancellation)
    {
        using var folder = DataFolderLock.Take(Path.GetDirectoryName(options.StagingFolder)!);
        await using var app = WorkbenchHost.Build(options);
        try
        {
            await app.StartAsync(cancellation);
        }
        catch (Exception e) when (e is IOException or SocketException)
        {
            throw StopException.Unreadable(new Trouble("cannot start the workbench", e.Message, "an address and a port that are free", options.Address, "it runs already, or another program has the port (name another with --port); or this machine has no such address, or the port needs other rights"), e);
        }

        await screen.Out.WriteLineAsync($"Workbench: {string.Join(" and ", app.Urls)}   (Ctrl+C ends it)");
        await screen.Out.WriteLineAsync(Commands.Lesson.Caution);
        await screen.Out.FlushAsync(CancellationToken.None);
        await app.WaitForShutdownAsync(cancellation);
    }
}
