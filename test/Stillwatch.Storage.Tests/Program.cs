using Stillwatch.Storage.Tests;
using Stillwatch.Storage.Tests.Killing;
using Xunit.MicrosoftTestingPlatform;

if (args is [Importer.Command, var place]) return await Importer.RunAsync(place);
return await TestPlatformTestFramework.RunAsync(args, SelfRegisteredExtensions.AddSelfRegisteredExtensions);
