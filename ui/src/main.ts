import '@fontsource-variable/ibm-plex-sans/index.css';
import { mount } from 'svelte';
import App from './App.svelte';

const target = document.getElementById('desk');
if (target) mount(App, { target });
