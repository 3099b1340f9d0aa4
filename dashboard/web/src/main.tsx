import { render } from 'preact';
import 'uplot/dist/uPlot.min.css';
import './styles/tokens.css';
import './styles/page.css';
import './styles/floor.css';
import './styles/wall.css';
import './styles/arc.css';
import './styles/chart.css';
import './styles/shop.css';
import './styles/print.css';
import { keepAlarm } from './floor/alarm.ts';
import { keepFeed } from './live/feed.ts';
import { keepLastArcs } from './live/last-arcs.ts';
import { Page } from './page.tsx';

keepFeed();
keepLastArcs();
keepAlarm();
render(<Page />, document.getElementById('page')!);
