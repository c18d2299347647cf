using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Signals;

namespace Stillwatch.Rehearsal;

/// <summary>By which published curve a rehearsal's light is to be read: its lamps and its blood are known, which those of a real sensor seldom are.</summary>
/// <param name="Name">As the curves of the program are named: theory, table of blood, wavelengths.</param>
/// <param name="Because">How it is known, in words.</param>
public sealed record RehearsedCurve(string Name, string Because)
{
    private const string NoteBegins = "its light is read by the curve \"";

    /// <summary>What a recording's invented note says of its light, to be put behind the rest of it.</summary>
    public static string Note(OpticalSensorSettings settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        return $"{NoteBegins}{NameOf(settings)}\"";
    }

    /// <summary>From the recording's own invented note; where that was lost, from labels that only the light of a rehearsal has. Null: no rehearsal, or no light of one.</summary>
    public static RehearsedCurve? Of(Recording recording)
    {
        ArgumentNullException.ThrowIfNull(recording);
        foreach (var note in recording.Annotations)
        {
            int at = note.Text.StartsWith(InventedData.Notice, StringComparison.Ordinal) ? note.Text.IndexOf(NoteBegins, StringComparison.Ordinal) : -1;
            if (at < 0) continue;
            string name = note.Text[(at + NoteBegins.Length)..];
            int end = name.IndexOf('"', StringComparison.Ordinal);
            if (end > 0) return new RehearsedCurve(name[..end], "the light is a rehearsal's, and its note says so");
        }

        return IsRehearsed(ChannelKind.RedLight) && IsRehearsed(ChannelKind.InfraredLight)
            ? new RehearsedCurve(NameOf(OpticalSensorSettings.Default), "the light is a rehearsal's, as its labels say; its note is lost, and rehearsals are written with these lamps and this blood")
            : null;

        bool IsRehearsed(ChannelKind kind) => recording.Find(kind)?.Label.EndsWith(InventedData.LabelEnd, StringComparison.Ordinal) == true;
    }

    private static string NameOf(OpticalSensorSettings settings) =>
        $"beer-lambert-{(settings.Blood == BloodTable.GratzerKollias ? "a" : "b")}-660-{(settings.Infrared == InfraredLamp.At940Nanometres ? "940" : "905")}";
}
