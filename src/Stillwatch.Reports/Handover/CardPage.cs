using Stillwatch.Reports.Model;

namespace Stillwatch.Reports.Handover;

/// <summary>The settings card.</summary>
internal static class CardPage
{
    public static List<Block> Compose(SettingsCardModel model)
    {
        var blocks = new List<Block>
        {
            new Block.Lead(model.IsStart ? "A start to think from. Prescription and unit policy come first." : model.DecidedBy is { } by ? $"Decided by {by}{(model.DecidedOn is { } on ? $", {on}" : "")}." : "Not yet decided."),
            new Block.Grid("", ["Setting", "Value", "Why this number"], [.. model.Lines.Select(l => (IReadOnlyList<string>)[l.Label, l.Value, l.Reason])], 3),
        };
        var different = model.Lines.Where(l => l.UnitDefault is not null).ToList();
        if (different.Count > 0)
        {
            blocks.Add(new Block.Warning($"Differs from the unit’s default: {string.Join("; ", different.Select(l => $"{l.Label} {l.Value} instead of {l.UnitDefault}"))}. "
                + (model.DeviationEnds is { } ends ? $"Ends: {ends}." : "No end was named: name one.")));
        }
        else blocks.Add(new Block.Prose("Nothing here differs from the unit’s default." + (model.DeviationEnds is { } until ? $" It holds until {until}." : "")));
        blocks.Add(new Block.Points(model.Remarks));
        if (model.DecidedBy is null) blocks.Add(new Block.ToSign(["Decided by", "Date", "Until"]));
        blocks.Add(new Block.Fine($"Averaging: {model.Averaging}. A value equal to a limit is not beyond it; a delay must be exceeded."));
        blocks.AddRange(HandoverWords.Origin(model.Provenance));
        return blocks;
    }
}
