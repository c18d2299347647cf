using Stillwatch.Reports.Model;

namespace Stillwatch.Reports;

/// <summary>Writes a report as one self-contained page: styles and figures inside, no script, nothing fetched from anywhere.</summary>
public static class HtmlReport
{
    public static void Write(ReportModel model, TextWriter writer)
    {
        ArgumentNullException.ThrowIfNull(model);
        writer.Write("<!DOCTYPE html>");
    }
}
