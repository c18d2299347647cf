using Stillwatch.Signals;

namespace Stillwatch.Formats.Wfdb;

/// <summary>One annotation of an annotation file, as annot(5) of the WFDB Applications Guide describes it.</summary>
/// <param name="Tick">Its time in sample intervals of the record (or of <see cref="WfdbAnnotations.TicksPerSecond"/> where the file says so).</param>
/// <param name="Code">The type, 1 to 49; what lies above is undefined and kept.</param>
/// <param name="Symbol">The type as the original tools print it: "N"; "[43]" for a type without a symbol.</param>
/// <param name="SubType">Its sub type, -128 to 127; 0 where the file gives none.</param>
/// <param name="Channel">The signal that it belongs to; stays from annotation to annotation until changed.</param>
/// <param name="Number">A number; stays like the channel.</param>
/// <param name="Text">The auxiliary string; null where there is none.</param>
public sealed record WfdbAnnotation(long Tick, int Code, string Symbol, int SubType, int Channel, int Number, string? Text);

/// <summary>What an annotation file holds.</summary>
/// <param name="Items">In the file's order, which need not be that of time.</param>
/// <param name="TicksPerSecond">Null: times are in sample intervals of the record.</param>
/// <param name="Issues">What could not be read, the gravest first.</param>
public sealed record WfdbAnnotations(IReadOnlyList<WfdbAnnotation> Items, decimal? TicksPerSecond, IReadOnlyList<ReadIssue> Issues);
