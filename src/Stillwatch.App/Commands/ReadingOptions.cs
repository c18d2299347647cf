using System.CommandLine;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.Conditioning;
using Stillwatch.Formats;
using Stillwatch.Formats.Csv;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.App.Commands;

/// <summary>The options by which recordings are read.</summary>
/// <param name="forRules">For a job that judges a category of patient: a waveform is then passed over, not held.</param>
/// <param name="forLight">For a job that reads waveforms alone: a monitor's numbers are then passed over.</param>
internal sealed class ReadingOptions(bool forRules = true, bool forLight = false)
{
    private readonly Option<string?>? channel = forLight ? null : SharedOptions.Channel();
    private readonly Option<ColumnMap> map = SharedOptions.Map();
    private readonly Option<Duration?> period = SharedOptions.Period();
    private readonly Option<SampleRate?> rate = SharedOptions.Rate();
    private readonly Option<DateOrder> dateOrder = SharedOptions.DateOrders();
    private readonly Option<CategoryChoice?>? category = forRules ? SharedOptions.Category() : null;

    public void AddTo(Command command)
    {
        if (channel is not null) command.Options.Add(channel);
        command.Options.Add(map);
        command.Options.Add(period);
        command.Options.Add(rate);
        command.Validators.Add(result =>
        {
            if (result.GetResult(period) is not null && result.GetResult(rate) is not null) result.AddError("found --period and --rate, expected one of them: both say how far apart the rows are");
        });
        command.Options.Add(dateOrder);
        if (category is not null) command.Options.Add(category);
    }

    public ReadingChoices Of(ParseResult parsed) => new(
        parsed.GetValue(map) ?? ColumnMap.Empty,
        channel is null ? null : parsed.GetValue(channel),
        category is null ? null : parsed.GetValue(category),
        parsed.GetValue(period),
        parsed.GetValue(rate),
        parsed.GetValue(dateOrder),
        forLight ? DeriveJob.Wanted : forRules ? ChannelKinds.Judged : null);
}

/// <summary>The options that make a conditioned series.</summary>
internal sealed class ConditioningOptions
{
    private readonly Option<decimal> averaging = SharedOptions.Averaging();
    private readonly Option<decimal> gapTolerance = SharedOptions.GapTolerance();
    private readonly Option<ValidityRule> validity = SharedOptions.Validity();
    private readonly Option<Rounding> rounding = SharedOptions.RoundingOption();

    public void AddTo(Command command)
    {
        command.Options.Add(averaging);
        command.Options.Add(gapTolerance);
        command.Options.Add(validity);
        command.Options.Add(rounding);
    }

    public ConditioningSettings Of(ParseResult parsed) => new(
        parsed.GetValue(validity),
        SharedOptions.Seconds(parsed.GetValue(averaging)),
        SharedOptions.Seconds(parsed.GetValue(gapTolerance)),
        parsed.GetValue(rounding));
}
