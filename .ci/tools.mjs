// What the tests ask that npm cannot bring: a browser and the tools nobody here wrote.
// Installs them where it may (Debian, root); else says what to install. Quiet when all are there.
import { spawnSync } from 'node:child_process';

const tools = [
  { package: 'chromium', probe: ['chromium', '--version'], why: 'the page' },
  { package: 'ngspice', probe: ['ngspice', '--version'], why: 'circuits solved by another hand' },
  { package: 'mosquitto', probe: ['mosquitto', '-h'], why: 'a foreign broker' },
  { package: 'mosquitto-clients', probe: ['mosquitto_pub', '--help'], why: 'foreign clients' },
  { package: 'python3-numpy', probe: ['/usr/bin/python3', '-c', 'import numpy'], why: 'figures' },
  { package: 'python3-scipy', probe: ['/usr/bin/python3', '-c', 'import scipy'], why: 'figures' },
];

const environment = { ...process.env, PATH: `${process.env.PATH}:/usr/sbin:/sbin` };
const has = ({ probe: [command, ...args] }) => {
  const { error, status } = spawnSync(command, args, { env: environment, stdio: 'ignore' });
  return !error && (status === 0 || !command.startsWith('/usr/bin/python3'));
};

let missing = tools.filter((tool) => !has(tool));
if (missing.length > 0 && process.getuid?.() === 0 && !spawnSync('apt-get', ['-v']).error) {
  const names = missing.map((tool) => tool.package);
  process.stderr.write(`stiffline: installing ${names.join(', ')} for the tests …\n`);
  const apt = (...args) =>
    spawnSync('apt-get', args, {
      stdio: ['ignore', 'ignore', 2],
      env: { ...environment, DEBIAN_FRONTEND: 'noninteractive' },
    });
  apt('-q', 'update');
  apt('-q', 'install', '-y', '--no-install-recommends', ...names);
  missing = missing.filter((tool) => !has(tool));
}
if (missing.length > 0) {
  for (const tool of missing)
    process.stderr.write(`stiffline: ${tool.package} is missing (${tool.why})\n`);
  const names = missing.map((tool) => tool.package).join(' ');
  process.stderr.write(`stiffline: install them first: apt-get install ${names}\n`);
  process.exit(1);
}
