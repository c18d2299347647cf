using Stillwatch.Signals;

namespace Stillwatch.Formats.Labels;

/// <summary>A column of a table, or a signal of a file, that is to become a channel.</summary>
/// <param name="Index">0-based, in the file.</param>
/// <param name="Name">Its label as words.</param>
/// <param name="Label">Its label, or its number.</param>
/// <param name="Kind">What it measures.</param>
/// <param name="IsAskedFor">Named by the user as the one of its kind to use.</param>
/// <param name="Unit">As the file states it for a signal; empty where a table says it in the label at most.</param>
internal sealed record PlannedChannel(int Index, LabelName Name, string Label, ChannelKind Kind, bool IsAskedFor, string Unit = "");
