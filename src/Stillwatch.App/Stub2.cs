namespace Stillwatch.App.Commands;
using System.CommandLine; using Stillwatch.App.Terminal;
internal static class ReviewCommand { public static Command Create(Screen s) => new("review"); }
internal static class TuneCommand { public static Command Create(Screen s) => new("tune"); }
internal static class WardCommand { public static Command Create(Screen s) => new("ward"); }
internal static class DemoCommand { public static Command Create(Screen s) => new("demo"); }
