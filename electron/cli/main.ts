console.error('The command line has no commands yet.');
process.exitCode = 2;
