using Microsoft.JSInterop;

namespace Stillwatch.App.Workbench.Layout;

/// <summary>Whether this browser shows a dark page, so that figures are drawn in inks for it.</summary>
internal sealed class PageTheme(IJSRuntime browser) : IAsyncDisposable
{
    private DotNetObjectReference<PageTheme>? self;
    private IJSObjectReference? module;

    public event Action? Changed;

    public bool IsDark { get; private set; }

    /// <summary>The script of the evidence pages; only once the page stands in the browser.</summary>
    public async Task<IJSObjectReference> ModuleAsync()
    {
        if (module is not null) return module;
        module = await browser.InvokeAsync<IJSObjectReference>("import", "./evidence.js");
        self = DotNetObjectReference.Create(this);
        ThemeChanged(await module.InvokeAsync<bool>("theme"));
        await module.InvokeVoidAsync("watchTheme", self);
        return module;
    }

    [JSInvokable]
    public void ThemeChanged(bool isDark)
    {
        if (IsDark == isDark) return;
        IsDark = isDark;
        Changed?.Invoke();
    }

    public async ValueTask DisposeAsync()
    {
        self?.Dispose();
        try
        {
            if (module is not null) await module.DisposeAsync();
        }
        catch (JSDisconnectedException)
        {
            // The browser went away first, and the script with it.
        }
    }
}
