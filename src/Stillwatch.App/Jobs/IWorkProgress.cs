namespace Stillwatch.App.Jobs;

/// <summary>Is told how far long work has come, from whatever thread does it.</summary>
public interface IWorkProgress
{
    /// <param name="what">What is being done ("reading").</param>
    /// <param name="done">How many are done.</param>
    /// <param name="total">Of how many; 0: not known.</param>
    void Report(string what, int done, int total);
}
