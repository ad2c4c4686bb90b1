import { mount } from 'svelte';
import App from './App.svelte';
import './look/tokens.css';
import './look/page.css';
import { LANGUAGE } from './text/language';

document.documentElement.lang = LANGUAGE;
const target = document.getElementById('desk');
if (target) mount(App, { target });
