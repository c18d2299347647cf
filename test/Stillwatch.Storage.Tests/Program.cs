using Stillwatch.Storage.Tests;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Killing;
using Xunit.MicrosoftTestingPlatform;

if (args is [Importer.Command, var place]) return await Importer.RunAsync(place);
if (args is [Mover.Command, var source, var backup, var target]) return await Mover.MoveAsync(source, backup, target);
return await TestPlatformTestFramework.RunAsync(args, SelfRegisteredExtensions.AddSelfRegisteredExtensions);
