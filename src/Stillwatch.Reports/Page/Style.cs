namespace Stillwatch.Reports.Page;

/// <summary>The page's own style sheet, for screen and for A4.</summary>
internal static class Style
{
    public const string Sheet = """
        :root { color-scheme: light; --ink: #1a2027; --muted: #535e68; --line: #d5dade; --wash: #f4f6f7; --accent: #4a3a9e; }
        * { box-sizing: border-box; }
        html { -webkit-text-size-adjust: 100%; scroll-behavior: smooth; }
        body { margin: 0; background: #fff; color: var(--ink); font: 16px/1.5 system-ui, 'Segoe UI', 'Helvetica Neue', Arial, 'Noto Sans', sans-serif; }
        main { max-width: 1128px; margin: 0 auto; padding: 28px 32px 64px; }
        h1 { font-size: 1.75rem; line-height: 1.2; margin: 0 0 .2em; letter-spacing: -.01em; overflow-wrap: anywhere; }
        h2 { font-size: 1.35rem; line-height: 1.25; margin: 2.2em 0 .5em; padding-top: .7em; border-top: 3px solid var(--ink); overflow-wrap: anywhere; }
        h3 { font-size: 1.1rem; margin: 1.9em 0 .4em; overflow-wrap: anywhere; }
        h4 { font-size: 1rem; margin: 0; }
        p { margin: .35em 0 .7em; max-width: 46em; }
        a { color: var(--accent); }
        a.term { color: inherit; text-decoration: underline dotted 1px; text-underline-offset: 3px; }
        a:focus-visible, summary:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
        .about { color: var(--muted); margin: 0 0 .2em; max-width: none; }
        .banner { border: 3px solid var(--ink); padding: .55em 1em; margin: 0 0 22px; font-weight: 600; max-width: none; }
        .answer { margin: 22px 0 0; padding: 4px 26px 14px; background: var(--wash); border-left: 6px solid var(--ink); }
        .answer h2 { border: 0; padding: 0; margin: 1em 0 .15em; font-size: 1rem; color: var(--muted); font-weight: 600; }
        .answer p { font-size: 1.14rem; line-height: 1.45; margin: 0 0 .5em; }
        .answer .verdict { font-weight: 600; }
        .answer li { margin: .3em 0; max-width: 50em; }
        .answer ul { margin: .3em 0 .8em; padding-left: 1.3em; }
        .tiles { display: grid; grid-template-columns: repeat(auto-fit, minmax(150px, 1fr)); gap: 0; margin: 22px 0 0; border-top: 1px solid var(--line); border-bottom: 1px solid var(--line); }
        .tile { padding: 12px 14px 12px 0; }
        .tile .label { display: flex; align-items: flex-end; min-height: 2.6em; color: var(--muted); font-size: .84rem; line-height: 1.3; }
        .tile .value { display: block; font-size: 1.5rem; line-height: 1.25; font-weight: 600; font-variant-numeric: tabular-nums; white-space: nowrap; }
        .tile .more { display: block; color: var(--muted); font-size: .84rem; line-height: 1.3; }
        li { max-width: 54em; }
        figure { margin: 1.7em 0 0; }
        figcaption p { color: var(--muted); margin: .1em 0 .6em; max-width: 54em; font-size: .95rem; }
        .plot svg { display: block; width: 100%; height: auto; }
        .strip svg { display: block; width: 220px; height: 30px; }
        details { margin: .5em 0; }
        summary { cursor: pointer; color: var(--accent); font-size: .95rem; padding: .15em 0; }
        details.recording { border-top: 1px solid var(--line); margin: 0; padding: .4em 0; }
        details.recording > summary { font-size: 1.05rem; font-weight: 600; color: var(--ink); overflow-wrap: anywhere; }
        .scroll { overflow-x: auto; }
        table { border-collapse: collapse; margin: .5em 0 1.2em; font-size: .9rem; line-height: 1.35; font-variant-numeric: tabular-nums; min-width: 40%; }
        caption { text-align: left; color: var(--muted); padding: .3em 0; }
        th, td { text-align: left; padding: 5px 18px 5px 0; border-bottom: 1px solid var(--line); vertical-align: top; font-weight: 400; overflow-wrap: break-word; }
        thead th { font-weight: 600; border-bottom: 1.5px solid var(--ink); vertical-align: bottom; }
        th.n, td.n { text-align: right; padding-left: 6px; }
        td.n, th.n { white-space: nowrap; }
        thead th.n { white-space: normal; }
        tbody th { min-width: 9.5em; }
        .wide table { width: 100%; }
        .mono, .mono td:last-child { font-family: ui-monospace, 'DejaVu Sans Mono', Consolas, monospace; font-size: .82rem; overflow-wrap: anywhere; }
        dl.words dt { font-weight: 600; margin-top: .9em; scroll-margin-top: 1em; }
        dl.words dd { margin: 0; max-width: 48em; }
        dl.words dt:target, dl.words dt:target + dd { background: #eceaf6; }
        .hours li { margin: .15em 0; }
        .note { color: var(--muted); font-size: .92rem; }
        footer { margin-top: 3em; padding-top: 1em; border-top: 1px solid var(--line); color: var(--muted); font-size: .9rem; }
        nav.contents { margin: 14px 0 0; font-size: .95rem; display: flex; flex-wrap: wrap; gap: .2em 1.4em; }
        @page { size: A4; margin: 13mm 12mm 15mm; }
        @media print {
          html { font-size: 9.5pt; }
          body { font-size: 1rem; }
          main { max-width: none; padding: 0; }
          h2, h3, h4, figcaption { break-after: avoid; }
          .answer { padding: 2px 18px 8px; }
          .tiles { grid-template-columns: repeat(auto-fit, minmax(98px, 1fr)); }
          .tile .value { font-size: 1.3rem; }
          figure, .answer, .tile, tr, dl.words dd { break-inside: avoid; }
          dl.words dt { break-after: avoid; }
          details:not([open]):not(.recording) { display: none; }
          nav.contents { display: none; }
          a, a.term { color: inherit; text-decoration: none; }
          .answer, .answer *, svg { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
        }
        """;
}
